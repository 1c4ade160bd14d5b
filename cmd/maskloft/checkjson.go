package main

import "maskloft/layouts/proportions"

// checkReport is what check --json prints.
type checkReport struct {
	Title    string           `json:"title"`
	Insignia []insigniaReport `json:"insignia"`
	Findings []ReportFinding  `json:"findings"`
	Notes    []string         `json:"notes"`
	Forms    []formReport     `json:"forms,omitempty"`
}

// formReport is a form that a file may be of.
type formReport struct {
	Page   string `json:"page"`
	Rule   string `json:"rule"`
	Name   string `json:"name"`
	Nation string `json:"nation"`
	Dates  string `json:"in_force"`
	Fits   bool   `json:"fits"`
	Says   string `json:"says"`
}

type insigniaReport struct {
	ID     string        `json:"id"`
	Rule   string        `json:"rule"`
	Checks []CheckRecord `json:"checks"`
}

// CheckRecord is one dimension held against its rule; lengths in inches.
type CheckRecord struct {
	Dimension     string   `json:"dimension"`
	What          string   `json:"what"`
	Measured      float64  `json:"measured_in"`
	Expected      float64  `json:"expected_in"`
	Difference    float64  `json:"difference_in"`
	Tolerance     float64  `json:"tolerance_in"`
	Ratio         float64  `json:"ratio"`
	ExpectedRatio float64  `json:"expected_ratio"`
	Unit          string   `json:"unit,omitempty"`
	Residual      float64  `json:"residual_in"`
	Verdict       string   `json:"verdict"`
	Text          string   `json:"text"`
	Other         string   `json:"other,omitempty"`
	Said          string   `json:"said,omitempty"`
	Follows       string   `json:"follows,omitempty"`
	Evidence      []string `json:"evidence,omitempty"`
	CanStop       bool     `json:"can_stop"`
	CanWarn       bool     `json:"can_warn"`
}

func checkRecords(checks []proportions.Check) []CheckRecord {
	out := []CheckRecord{}
	for _, c := range checks {
		out = append(out, CheckRecord{
			Dimension: c.Dimension(), What: c.What, Measured: round6(c.Measured.Inches()), Expected: round6(c.Expected.Inches()),
			Difference: round6(c.Difference.Inches()), Tolerance: round6(c.Tolerance.Inches()), Ratio: round6(c.Ratio), ExpectedRatio: round6(c.ExpectedRatio),
			Unit: string(c.Unit), Residual: round6(c.Residual.Inches()), Verdict: string(c.Verdict), Text: c.Text, Other: c.Other, Said: c.Said, Follows: c.Follows, Evidence: c.Evidence, CanStop: c.CanStop, CanWarn: c.CanWarn,
		})
	}
	return out
}

func (r checkResult) report() checkReport {
	out := checkReport{Title: r.title, Insignia: []insigniaReport{}, Findings: []ReportFinding{}, Notes: append([]string{}, r.notes...)}
	for _, x := range r.checked {
		out.Insignia = append(out.Insignia, insigniaReport{x.id, ruleID(x.rule), checkRecords(x.checks)})
	}
	for _, c := range r.candidates {
		out.Forms = append(out.Forms, formReport{c.page, ruleID(c.Rule), c.Rule.Name, c.Rule.Nation, inForce(c.Rule), c.Sound, c.fits()})
	}
	out.Findings = reportFindings(r.findings)
	return out
}
