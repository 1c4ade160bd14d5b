package bench

import (
	"context"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"maskloft/layouts"
	"maskloft/layouts/job"
	"maskloft/layouts/survey"

	"maskloft/layouts/masks"
)

// askFindings returns what the whole check finds, or what one marking by itself shows,
// and with After what is gone and new since then.
func askFindings(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	b.mu.Lock()
	hash := b.hash
	j, err := b.file.Job()
	b.mu.Unlock()
	if err != nil {
		return nil, err
	}
	var found []layouts.Finding
	if q.Marking != "" {
		found, err = findingsOf(ctx, j, q.Marking)
	} else {
		_, found, err = b.Kit.Check(ctx, j)
	}
	if err != nil {
		return nil, err
	}
	out := Findings{Findings: keyed(found), Offers: []Offer{}, Gone: []Finding{}, Fresh: []string{}}
	if q.Marking == "" { // numbers are of the whole list
		offers := job.Offers(found)
		out.List = job.ListMark(offers)
		for _, o := range offers {
			i := slices.IndexFunc(found, func(f layouts.Finding) bool { return sameFinding(f, o.Finding) })
			out.Offers = append(out.Offers, Offer{o.Number, o.Name(), out.Findings[i].Key, o.Finding.Marking, o.Finding.Rule, o.Path, o.Value, o.Why})
		}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if before, ok := b.found[q.Marking+"\x00"+q.After]; ok && q.After != "" {
		for _, f := range before {
			if !slices.ContainsFunc(out.Findings, func(x Finding) bool { return x.Key == f.Key }) {
				out.Gone = append(out.Gone, f)
			}
		}
		for _, f := range out.Findings {
			if !slices.ContainsFunc(before, func(x Finding) bool { return x.Key == f.Key }) {
				out.Fresh = append(out.Fresh, f.Key)
			}
		}
	}
	b.remembered(q.Marking+"\x00"+hash, out.Findings)
	return out, nil
}

// keptFindings is of how many texts and markings findings are kept.
const keptFindings = 200

func (b *Bench) remembered(key string, found []Finding) {
	if _, ok := b.found[key]; !ok {
		b.order = append(b.order, key)
	}
	b.found[key] = found
	if len(b.order) > keptFindings {
		delete(b.found, b.order[0])
		b.order = b.order[1:]
	}
}

// findingsOf are those of one marking laid and surveyed by itself.
func findingsOf(ctx context.Context, j *job.Job, id string) ([]layouts.Finding, error) {
	ones, err := j.Of(ctx, id)
	if err != nil {
		return nil, err
	}
	var out []layouts.Finding
	for _, one := range ones {
		out = append(out, survey.Inspect([]masks.Laid{one.Laid})...)
		out = append(out, one.Findings...)
	}
	return out, nil
}

func sameFinding(a, b layouts.Finding) bool {
	return a.Rule == b.Rule && a.Marking == b.Marking && a.Message == b.Message && slices.Equal(a.Proposals, b.Proposals)
}

var numbers = regexp.MustCompile(`[-+]?[0-9][-0-9./]*`)

// keyed gives findings keys: rule, marking and what the message is about, without its
// numbers, which change while it stays the same finding.
func keyed(found []layouts.Finding) []Finding {
	out := []Finding{}
	times := map[string]int{}
	for _, f := range found {
		words := strings.Fields(numbers.ReplaceAllString(f.Message, ""))
		key := f.Rule + "/" + f.Marking + "/" + Hash([]byte(strings.Join(words, " ")))[:6]
		if times[key]++; times[key] > 1 {
			key += "/" + strconv.Itoa(times[key])
		}
		one := Finding{
			Key: key, Level: string(f.Level), Rule: f.Rule, Marking: f.Marking, At: point3(f.Where.Vec()), Message: f.Message, Hint: f.Hint,
			Measured: f.Measured, Expected: f.Expected, Tolerance: f.Tolerance, Source: f.Source,
		}
		for _, p := range f.Proposals {
			one.Proposals = append(one.Proposals, Proposal{p.Path, p.Value, p.Why})
		}
		out = append(out, one)
	}
	return out
}

// askCheck returns every marking held against its rules.
func askCheck(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	report, _, err := b.Kit.Check(ctx, j)
	return report, err
}

// askPlace returns the list of points to place.
func askPlace(b *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	return b.Kit.Place(ctx, j)
}

// askReadings adjusts what the tapes read.
func askReadings(b *Bench, ctx context.Context, q Request, _ func(Answer)) (any, error) {
	j, err := b.job()
	if err != nil {
		return nil, err
	}
	return b.Kit.Readings(ctx, j, q)
}

// askRules answers which forms stood where.
func askRules(b *Bench, _ context.Context, q Request, _ func(Answer)) (any, error) {
	return b.Kit.Rules(q)
}
