package reading

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Need says whether a key is needed.
type Need int

const (
	MayBe      Need = iota // it may be given
	Needed                 // it is needed
	NeededElse             // it is needed where others of its block are not given
)

// Key is one key of a block.
type Key struct {
	Name    string
	Need    Need
	Type    string // see keys.txt
	Usual   string // what stands for it where it is not given; empty: nothing, or see Means
	Means   string
	Example string // what to type, and a remark
}

// Block is a block of keys, as layouts and aircraft files have them.
type Block struct {
	ID    string
	Name  string // in messages
	Of    string // the block that it is a kind of; empty: none
	When  string // KEY=WORD by which its kind is told; empty: by the keys it needs
	Means string
	Keys  []Key // in the order of keys.txt
}

//go:embed keys.txt
var keysText string

// blocks is the table of keys.txt by the id of the block, and the ids in its order.
var blocks = sync.OnceValue(func() keyTable {
	t, err := parseKeys(keysText)
	if err != nil {
		panic(err) // the file is our own
	}
	return t
})

type keyTable struct {
	byID  map[string]*Block
	order []string
}

// Blocks returns every block of a layout and of an aircraft file, in the order of a file.
func Blocks() []Block {
	t := blocks()
	var out []Block
	for _, id := range t.order {
		out = append(out, *t.byID[id])
	}
	return out
}

// block reads v as a block of the table; see [document.Value.Fields]. The keys named
// besides are needed here, and those that begin with - are not known here.
func (v value) block(id string, here ...string) fields {
	return v.blockNamed(id, blocks().of(id).Name, here...)
}

// blockNamed is block with another name for messages.
func (v value) blockNamed(id, name string, here ...string) fields {
	var need, may []string
	for _, k := range blocks().of(id).Keys {
		switch {
		case k.Need == Needed || slices.Contains(here, k.Name):
			need = append(need, k.Name)
		case !slices.Contains(here, "-"+k.Name):
			may = append(may, k.Name)
		}
	}
	return fields{v, v.Fields(name, strings.Join(need, " "), strings.Join(may, " "))}
}

// of returns a block of the table.
func (t keyTable) of(id string) *Block {
	b, ok := t.byID[id]
	if !ok {
		panic(fmt.Sprintf("reading: keys.txt has no block %q", id))
	}
	return b
}

// kinds are the blocks that are kinds of one, in order.
func (t keyTable) kinds(of string) []*Block {
	var out []*Block
	for _, id := range t.order {
		if b := t.byID[id]; b.Of == of {
			out = append(out, b)
		}
	}
	return out
}

// has tells whether a block has a key.
func (b *Block) has(key string) bool {
	return slices.ContainsFunc(b.Keys, func(k Key) bool { return k.Name == key })
}

// parseKeys reads the table.
func parseKeys(text string) (keyTable, error) {
	t := keyTable{byID: map[string]*Block{}}
	var b *Block
	for i, line := range strings.Split(text, "\n") {
		wrong := func(what string) error { return fmt.Errorf("keys.txt:%d: %s: %q", i+1, what, line) }
		switch {
		case strings.TrimSpace(line) == "" || line[0] == '#':
		case strings.IndexByte("!? ", line[0]) < 0:
			head, means, ok := strings.Cut(line, " | ")
			if !ok {
				return t, wrong("a block says what it is")
			}
			b = &Block{Means: means}
			head, kind, _ := strings.Cut(head, " < ")
			b.Of, b.When, _ = strings.Cut(kind, "; ")
			if b.ID, b.Name, ok = strings.Cut(head, " = "); !ok {
				b.Name = b.ID
			}
			if t.byID[b.ID] != nil || b.Of != "" && t.byID[b.Of] == nil {
				return t, wrong("the block is there twice, or what it is a kind of is not above")
			}
			t.byID[b.ID], t.order = b, append(t.order, b.ID)
		case b == nil:
			return t, wrong("a key without a block")
		default:
			keys, err := t.keysOf(b, line)
			if err != nil {
				return t, wrong(err.Error())
			}
			b.Keys = append(b.Keys, keys...)
		}
	}
	return t, nil
}

// keysOf reads a line of keys: one with its columns, or several that a block has from
// the one that it is a kind of.
func (t keyTable) keysOf(b *Block, line string) ([]Key, error) {
	need := map[byte]Need{' ': MayBe, '!': Needed, '?': NeededElse}[line[0]]
	columns := strings.Split(line[1:], "|")
	for i := range columns {
		columns[i] = strings.TrimSpace(columns[i])
	}
	if len(columns) == 4 {
		k := Key{Name: columns[0], Need: need, Type: columns[1], Usual: columns[2], Means: columns[3]}
		k.Example = exampleOf(b.Name, k.Name)
		return []Key{k}, nil
	}
	if len(columns) != 1 || b.Of == "" {
		return nil, fmt.Errorf("a key has four columns")
	}
	var out []Key
	for _, name := range strings.Fields(line[1:]) {
		base := t.byID[b.Of]
		i := slices.IndexFunc(base.Keys, func(k Key) bool { return k.Name == name })
		if i < 0 {
			return nil, fmt.Errorf("%s has no key %s", base.ID, name)
		}
		k := base.Keys[i]
		k.Need, k.Example = need, exampleOf(b.Name, name)
		out = append(out, k)
	}
	return out, nil
}
