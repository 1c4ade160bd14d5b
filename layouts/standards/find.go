package standards

import (
	"fmt"
	"sort"
	"strings"
)

// Documents returns every document known, by family and then by date of issue.
// The values are shared: read, do not write.
func Documents() ([]*Document, error) {
	l, err := load()
	return l.documents, err
}

// Palette returns what is known of the paints, in the order of the file.
func Palette() ([]Colour, error) {
	l, err := load()
	return l.palette, err
}

// Find returns the rule of that id: family/name for the newest revision that
// has it, family@revision/name for one revision. An unknown id is an error that
// lists the ids nearest to it.
func Find(id string) (*Rule, error) {
	l, err := load()
	if err != nil {
		return nil, err
	}
	return l.find(id)
}

func (l library) find(id string) (*Rule, error) {
	of, name, ok := strings.Cut(id, "/")
	var newest *Rule
	var ids []string
	for _, d := range l.documents {
		for _, r := range d.Rules {
			if ok && strings.TrimPrefix(r.ID, d.Family+"/") == name {
				if d.ID == of {
					return r, nil
				}
				if d.Family == of {
					newest = r
				}
			}
			ids = append(ids, r.ID)
		}
	}
	if newest != nil {
		return newest, nil
	}
	return nil, fmt.Errorf("unknown rule %q: write one of %s", id, strings.Join(nearest(id, ids, 5), ", "))
}

// nearest returns up to n of the ids that share most letter pairs with the given
// one, best first and then by name, without repeats.
func nearest(id string, ids []string, n int) []string {
	score := map[string]float64{}
	var list []string
	for _, k := range ids {
		if _, seen := score[k]; !seen {
			score[k] = likeness(id, k)
			list = append(list, k)
		}
	}
	sort.Slice(list, func(i, j int) bool {
		if a, b := score[list[i]], score[list[j]]; a != b {
			return a > b
		}
		return list[i] < list[j]
	})
	return list[:min(n, len(list))]
}

// likeness is Dice's coefficient of the letter pairs of a and b: 1 where they are
// the same.
func likeness(a, b string) float64 {
	pairs := map[string]int{}
	for i := 0; i+1 < len(a); i++ {
		pairs[a[i:i+2]]++
	}
	same := 0
	for i := 0; i+1 < len(b); i++ {
		if pairs[b[i:i+2]] > 0 {
			pairs[b[i:i+2]]--
			same++
		}
	}
	if len(a)+len(b) < 3 {
		return 0
	}
	return 2 * float64(same) / float64(len(a)+len(b)-2)
}
