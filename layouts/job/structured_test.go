//go:build unix

package job

import (
	"flag"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"sort"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v3"

	"maskloft/layouts"
	"maskloft/layouts/reading"
)

// Valid layouts with values perturbed, keys dropped, added and exchanged go through the
// whole plan:
//
//	go test ./layouts/job -run StructuredCases -v -args -cases 10000
//	go test ./layouts/job -run StructuredCases -v -args -seconds 60 -from 5000
//
// Case n is made from n alone, so one that fails is run again by -from n -cases 1.
var (
	caseCount   = flag.Int("cases", 12, "structured cases to run; 0: as many as -seconds allow")
	caseSeconds = flag.Float64("seconds", 0, "run structured cases for so long; 0: -cases of them")
	caseFrom    = flag.Uint64("from", 1, "number of the first structured case")
	caseKeep    = flag.String("keep", "", "folder to write the layouts of failing cases to")
)

// The budget of one case: 10 s of CPU where the demo takes 0.75 s, as much more as the
// demo takes longer here and now, and 1 GB. A case of a seed that takes more than that
// itself may take seedFactor times as long as its seed.
const (
	mostCaseCPU    = 10.0
	demoCPU        = 0.75
	seedFactor     = 2.5
	mostCaseMemory = 1 << 30
)

// seedCPU is the seconds of CPU of a seed as it is.
func seedCPU(t testing.TB, seed caseSeed) float64 {
	t.Helper()
	files := fstest.MapFS{}
	for name, data := range seed.files {
		files[name] = &fstest.MapFile{Data: data}
	}
	spec, err := reading.LoadFS(files, seed.name)
	require.NoError(t, err)
	before := cpu()
	_, err = New(spec, nil).Whole(t.Context())
	require.NoError(t, err)
	return cpu() - before
}

// slowness is by how much this machine is slower now than the one of the budget.
func slowness(t testing.TB) float64 {
	t.Helper()
	least := math.Inf(1)
	for range 3 {
		spec, err := reading.LoadFS(reading.DemoFiles(), reading.DemoName)
		require.NoError(t, err)
		before := cpu()
		_, err = New(spec, nil).Whole(t.Context())
		require.NoError(t, err)
		least = min(least, cpu()-before)
	}
	return max(1, least/demoCPU)
}

// slowSeeds take several seconds each, and are taken less often.
var slowSeeds = map[string]bool{"sandling.yaml": true, "lessons/34-cheat-line.yaml": true}

// caseSeed is a valid layout with the files that it names.
type caseSeed struct {
	name  string
	files map[string][]byte
}

func caseSeeds(t testing.TB) []caseSeed {
	t.Helper()
	var out []caseSeed
	demo := map[string][]byte{}
	read := func(fsys fs.FS, dir string, into map[string][]byte, as string) {
		entries, err := fs.ReadDir(fsys, dir)
		require.NoError(t, err)
		for _, e := range entries {
			if !e.IsDir() {
				data, err := fs.ReadFile(fsys, path.Join(dir, e.Name()))
				require.NoError(t, err)
				into[as+e.Name()] = data
			}
		}
	}
	read(reading.DemoFiles(), ".", demo, "")
	for _, name := range []string{"demo.yaml", "sandling.yaml"} {
		out = append(out, caseSeed{name, demo})
	}
	lessons := map[string][]byte{}
	disk := os.DirFS(filepath.Join("..", "..", "testdata"))
	read(disk, "lessons", lessons, "lessons/")
	read(disk, "aircraft", lessons, "aircraft/")
	for name := range lessons {
		if strings.HasPrefix(name, "lessons/") && strings.HasSuffix(name, ".yaml") {
			out = append(out, caseSeed{name, lessons})
		}
	}
	sort.Slice(out[2:], func(i, j int) bool { return out[2+i].name < out[2+j].name })
	return out
}

// caseResult is how one case ended.
type caseResult struct {
	number        uint64
	kind          string // built, partly, refused
	fault         string // empty: none
	cpu           float64
	memory        uint64
	seed, changes string
}

var placeText = regexp.MustCompile(`\.(yaml|svg):\d+:\d+: `)

// runCase makes a case and computes all of it.
func runCase(t testing.TB, seeds []caseSeed, number uint64) (r caseResult, text string) {
	r.number = number
	m := &caseMaker{rand: rand.New(rand.NewPCG(number, 20))}
	seed := seeds[m.rand.IntN(len(seeds))]
	if slowSeeds[seed.name] && m.rand.IntN(5) > 0 {
		seed = seeds[m.rand.IntN(len(seeds))]
	}
	r.seed = seed.name
	files := m.changed(t, seed, seeds)
	r.changes = strings.Join(m.said, "; ")
	text = string(files[seed.name].Data)

	var done atomic.Bool
	peak := make(chan uint64)
	go func() { peak <- watchMemory(&done) }()
	before := cpu()
	func() {
		defer func() {
			if p := recover(); p != nil {
				r.fault = fmt.Sprintf("panic: %v\n%s", p, debug.Stack())
			}
		}()
		spec, err := reading.LoadFS(files, seed.name)
		if err != nil {
			r.kind = "refused"
			if !placeText.MatchString(err.Error()) {
				r.fault = "refused without a place: " + err.Error()
			}
			return
		}
		w, err := New(spec, nil).Whole(t.Context())
		if err != nil {
			r.kind = "refused"
			if !placeText.MatchString(err.Error()) {
				r.fault = "refused without a place: " + err.Error()
			}
			return
		}
		r.kind = "built"
		for _, f := range w.Findings {
			if f.Rule != layouts.MissingRule {
				continue
			}
			r.kind = "partly"
			if !placeText.MatchString(f.Message) {
				r.fault = "left out without a place: " + f.Message
			}
		}
	}()
	r.cpu = cpu() - before
	done.Store(true)
	r.memory = <-peak
	switch {
	case r.fault != "":
	case r.memory > mostCaseMemory:
		r.fault = fmt.Sprintf("it took %d MB", r.memory>>20)
	}
	return r, text
}

// watchMemory returns the most memory in use until done.
func watchMemory(done *atomic.Bool) (most uint64) {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	for !done.Load() {
		metrics.Read(sample)
		most = max(most, sample[0].Value.Uint64())
		time.Sleep(5 * time.Millisecond)
	}
	return most
}

func TestStructuredCases(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	seeds, slow := caseSeeds(t), slowness(t)
	count := map[string]int{}
	var longest, largest caseResult
	own, over := map[string]float64{}, 0
	start := time.Now()
	n := uint64(0)
	for ; ; n++ {
		if *caseSeconds > 0 && time.Since(start).Seconds() > *caseSeconds || *caseSeconds == 0 && n >= uint64(*caseCount) {
			break
		}
		number := *caseFrom + n
		guard := time.AfterFunc(10*time.Minute, func() { panic(fmt.Sprintf("structured case %d does not end", number)) })
		r, text := runCase(t, seeds, number)
		guard.Stop()
		if r.cpu > mostCaseCPU*slow {
			over++
			at := slices.IndexFunc(seeds, func(s caseSeed) bool { return s.name == r.seed })
			if _, known := own[r.seed]; !known {
				own[r.seed] = seedCPU(t, seeds[at])
			}
			if r.fault == "" && r.cpu > seedFactor*own[r.seed] {
				r.fault = fmt.Sprintf("it took too long; its seed takes %.1f s", own[r.seed])
			}
		}
		count[r.kind]++
		if r.cpu > longest.cpu {
			longest = r
		}
		if r.memory > largest.memory {
			largest = r
		}
		if r.fault != "" {
			t.Errorf("case %d of %s (%s): %.1f s, %d MB: %s", r.number, r.seed, r.changes, r.cpu, r.memory>>20, r.fault)
			if *caseKeep != "" {
				require.NoError(t, os.WriteFile(filepath.Join(*caseKeep, fmt.Sprintf("case-%d.yaml", r.number)), []byte(text), 0o644))
			}
		}
	}
	t.Logf("%d cases from %d on: %d built, %d with a marking left out, %d refused; longest %.2f s of CPU (case %d; the demo is %.2f times slower here than on the machine of the budget), %d over 10 s of its time, largest %d MB (case %d)",
		n, *caseFrom, count["built"], count["partly"], count["refused"], longest.cpu, longest.number, slow, over, largest.memory>>20, largest.number)
}

// caseMaker changes a layout.
type caseMaker struct {
	rand *rand.Rand
	said []string
}

// changed returns the files of a seed with one to three changes in the layout or the
// aircraft that it names.
func (m *caseMaker) changed(t testing.TB, seed caseSeed, others []caseSeed) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for name, data := range seed.files {
		out[name] = &fstest.MapFile{Data: data}
	}
	roots := map[string]*yaml.Node{}
	tree := func(name string, data []byte) *yaml.Node {
		var n yaml.Node
		require.NoError(t, yaml.Unmarshal(data, &n))
		return n.Content[0]
	}
	names := []string{seed.name}
	roots[seed.name] = tree(seed.name, seed.files[seed.name])
	if at := valueOf(roots[seed.name], "aircraft"); at != nil && at.Kind == yaml.ScalarNode {
		file := filepath.ToSlash(filepath.Join(filepath.Dir(seed.name), at.Value))
		roots[file] = tree(file, seed.files[file])
		names = append(names, file)
	}
	donor := others[m.rand.IntN(len(others))]
	gift := tree(donor.name, donor.files[donor.name])
	for range 1 + m.rand.IntN(3) {
		name := names[0]
		if len(names) > 1 && m.rand.IntN(3) == 0 {
			name = names[1]
		}
		m.change(roots[name], gift)
	}
	for name, root := range roots {
		data, err := yaml.Marshal(root)
		require.NoError(t, err)
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}

// spot is a value and where it hangs.
type spot struct {
	parent *yaml.Node
	at     int // of the value in parent.Content
	key    string
}

// spotsOf lists all values below a node.
func spotsOf(n *yaml.Node) []spot {
	var out []spot
	step, first := 1, 0
	if n.Kind == yaml.MappingNode {
		step, first = 2, 1
	}
	for i := first; i < len(n.Content); i += step {
		key := ""
		if step == 2 {
			key = n.Content[i-1].Value
		}
		out = append(out, spot{n, i, key})
		out = append(out, spotsOf(n.Content[i])...)
	}
	return out
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func (m *caseMaker) pick(spots []spot, fits func(spot) bool) (spot, bool) {
	var fit []spot
	for _, s := range spots {
		if fits(s) {
			fit = append(fit, s)
		}
	}
	if len(fit) == 0 {
		return spot{}, false
	}
	return fit[m.rand.IntN(len(fit))], true
}

func (m *caseMaker) say(format string, args ...any) {
	m.said = append(m.said, fmt.Sprintf(format, args...))
}

var numberText = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

var (
	caseFactors = []float64{0, -1, 0.5, 0.9, 0.99, 0.999, 1.001, 1.01, 1.1, 1.5, 2, 3, 10, 100, 0.1, 0.01, 1e-4, 1e4, 1e6}
	caseWords   = []string{"yes", "no", "keep-down", "open", "side", "skin", "text", "handed", "symmetric", "left", "right", "both", "fore", "aft", "waterline", "station", "leading-edge", "overlap", "free", "draw", "round", "smooth", "soft", "above", "centred", "level", "upright", "hinge", "natural", "clamped", "ruled", "monotone", "lower", "upper", "wing", "plate", "mm", "ft"}
)

// change makes one change below a root; gift is another layout to take values from.
func (m *caseMaker) change(root, gift *yaml.Node) {
	spots := spotsOf(root)
	switch m.rand.IntN(10) {
	case 0: // drop a key or an item
		if s, ok := m.pick(spots, func(s spot) bool { return len(s.parent.Content) > 1 }); ok {
			from := s.at
			if s.parent.Kind == yaml.MappingNode {
				from--
			}
			m.say("without %s of line %d", s.key, s.parent.Content[from].Line)
			s.parent.Content = append(append([]*yaml.Node{}, s.parent.Content[:from]...), s.parent.Content[s.at+1:]...)
		}
	case 1: // an item twice, or two exchanged
		if s, ok := m.pick(spots, func(s spot) bool { return s.parent.Kind == yaml.SequenceNode && len(s.parent.Content) > 1 }); ok {
			c := append([]*yaml.Node{}, s.parent.Content...)
			o := m.rand.IntN(len(c))
			if m.rand.IntN(2) == 0 {
				c[s.at], c[o] = c[o], c[s.at]
				m.say("items %d and %d exchanged, line %d", s.at+1, o+1, c[o].Line)
			} else {
				c = append(c, c[o])
				m.say("item %d again, line %d", o+1, c[o].Line)
			}
			s.parent.Content = c
		}
	case 2: // a value of another layout under the same key
		from, ok := m.pick(spotsOf(gift), func(s spot) bool { return s.key != "" && s.key != "id" && s.key != "aircraft" })
		if !ok {
			return
		}
		if to, ok := m.pick(spots, func(s spot) bool { return s.key == from.key }); ok {
			m.say("%s of another layout, line %d", to.key, from.parent.Content[from.at].Line)
			to.parent.Content[to.at] = from.parent.Content[from.at]
		}
	case 3: // a further key, as the table of keys has it
		m.addKey(spots)
	case 4: // another word
		if s, ok := m.pick(spots, func(s spot) bool {
			v := s.parent.Content[s.at]
			return v.Kind == yaml.ScalarNode && !numberText.MatchString(v.Value) && s.key != "name" && s.key != "aircraft"
		}); ok {
			v := *s.parent.Content[s.at]
			v.Value, v.Style = caseWords[m.rand.IntN(len(caseWords))], 0
			m.say("%s: %s", s.key, v.Value)
			s.parent.Content[s.at] = &v
		}
	default: // another number
		s, ok := m.pick(spots, func(s spot) bool {
			v := s.parent.Content[s.at]
			return v.Kind == yaml.ScalarNode && numberText.MatchString(v.Value)
		})
		if !ok {
			return
		}
		v := *s.parent.Content[s.at]
		at := numberText.FindStringIndex(v.Value)
		var n float64
		fmt.Sscan(v.Value[at[0]:at[1]], &n)
		if m.rand.IntN(4) == 0 {
			n += float64(m.rand.IntN(41) - 20)
		} else {
			n *= caseFactors[m.rand.IntN(len(caseFactors))]
		}
		text := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.6f", n), "0"), ".")
		v.Value = v.Value[:at[0]] + text + v.Value[at[1]:]
		v.Style &^= yaml.LiteralStyle
		m.say("%s: %s", s.key, v.Value)
		s.parent.Content[s.at] = &v
	}
}

// addKey adds a key that the table knows to a block, with its usual value or example.
func (m *caseMaker) addKey(spots []spot) {
	s, ok := m.pick(spots, func(s spot) bool {
		v := s.parent.Content[s.at]
		return v.Kind == yaml.MappingNode && len(v.Content) > 0
	})
	if !ok {
		return
	}
	block := s.parent.Content[s.at]
	var fits []reading.Key
	for _, b := range reading.Blocks() {
		known := map[string]bool{}
		for _, k := range b.Keys {
			known[k.Name] = true
		}
		all := true
		for i := 0; i < len(block.Content); i += 2 {
			all = all && known[block.Content[i].Value]
		}
		for _, k := range b.Keys {
			if all && valueOf(block, k.Name) == nil {
				fits = append(fits, k)
			}
		}
	}
	if len(fits) == 0 {
		return
	}
	k := fits[m.rand.IntN(len(fits))]
	text := k.Usual
	if text == "" || m.rand.IntN(2) == 0 {
		text = strings.TrimPrefix(k.Example, k.Name+":")
		if at := strings.IndexAny(text, "("); at > 0 {
			text = text[:at]
		}
		if !strings.ContainsAny(text, "[{") {
			text, _, _ = strings.Cut(text, ",")
		}
	}
	var value yaml.Node
	if yaml.Unmarshal([]byte(text), &value) != nil || len(value.Content) == 0 {
		return
	}
	m.say("%s: %s", k.Name, strings.TrimSpace(text))
	block.Content = append(append([]*yaml.Node{}, block.Content...), &yaml.Node{Kind: yaml.ScalarNode, Value: k.Name}, value.Content[0])
}
