package document

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// splitLines cuts text at every line break that YAML 1.1 knows (section 5.4: LF,
// CR, CR LF, NEL, LS, PS), so that its line numbers and ours agree.
func splitLines(text string) []string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n").Replace(text)
	return strings.Split(text, "\n")
}

// line returns source line n, counted from one; empty beyond the end.
func (d *Document) line(n int) string {
	if n < 1 || n > len(d.lines) {
		return ""
	}
	return d.lines[n-1]
}

// columns finds bytes of a line by their column. It goes on from the last place found,
// for nodes come in the order of the text: a line of a million characters is walked once.
type columns struct {
	line, column, byte int
}

// rest returns the source from a place to the end of its line; empty beyond it.
func (c *columns) rest(d *Document, at Place) string {
	if at.Line != c.line || at.Column < c.column {
		*c = columns{line: at.Line, column: 1}
	}
	line := d.line(at.Line)
	for c.column < at.Column && c.byte < len(line) {
		_, size := utf8.DecodeRuneInString(line[c.byte:])
		c.byte += size
		c.column++
	}
	if at.Column != c.column {
		return ""
	}
	return line[c.byte:]
}

// addNotUTF8 reports the first byte that is not UTF-8.
func (d *Document) addNotUTF8() {
	for i, line := range d.lines {
		for at, column := 0, 1; at < len(line); column++ {
			r, size := utf8.DecodeRuneInString(line[at:])
			if r == utf8.RuneError && size == 1 {
				d.Report(Place{File: d.File, Line: i + 1, Column: column},
					fmt.Sprintf("the file is not UTF-8 text (byte 0x%02X)", line[at]), "save it from the editor as UTF-8, plain text")
				d.problems[len(d.problems)-1].Excerpt = strings.ToValidUTF8(line, "?")
				return
			}
			at += size
		}
	}
}

// addControls reports control and invisible characters, which no editor shows, and tells
// whether there were any.
func (d *Document) addControls() bool {
	found := false
	for i, line := range d.lines {
		column := 0
		for _, r := range line {
			column++
			if r != '\t' && IsControl(r) {
				d.Report(Place{File: d.File, Line: i + 1, Column: column}, fmt.Sprintf("an invisible or control character (U+%04X) stands here", r), "delete it and type the line again")
				found = true
				break
			}
		}
	}
	return found
}

var yamlErrorText = regexp.MustCompile(`(?s)^yaml: (?:line (\d+): )?(.*)$`)

// syntaxHelp puts the parser's words into the reader's.
var syntaxHelp = []struct{ says, message, hint string }{
	{"did not find expected key", "this line does not fit the lines above it", "keys that belong together start in the same column; text with \"quotes\" inside goes in 'single quotes'"},
	{"did not find expected '-' indicator", "this line does not fit the list above it", "the - of every item stands in one column, and the keys of an item in another"},
	{"mapping values are not allowed", "a colon is not expected here", "write one key: value on a line, and quote text that holds a colon: \"HCF Order 12: issue 2\""},
	{"could not find expected ':'", "a key without its colon", "write key: value, with a space after the colon"},
	{"did not find expected ',' or ']'", "a list in [ ] is not closed, or a comma is missing", "write [1, 2, 3] and close each [ with a ]"},
	{"did not find expected ',' or '}'", "a block in { } is not closed, or a comma is missing", "write {fs: 134, wl: 51} and close each { with a }"},
	{"did not find expected node content", "a value is missing here", "write a value, or take out the comma or bracket too many"},
	{"found unexpected end of stream", "a quotation mark is not closed", "put the second quotation mark at the end of the text"},
	{"found unknown escape character", "a backslash in \"double quotes\" begins a code that is not known", "use 'single quotes', which keep a backslash as it is"},
	{"found character that cannot start any token", "text cannot begin with this character", "put the text in quotes"},
	{"block sequence entries are not allowed", "a list item is not expected here", "put the list on lines of its own below the key, each item with -"},
	{"did not find expected <document start>", "this line does not belong to the lines above it", "keys of the file start in column 1, each followed by a colon and a space"},
	{"unknown anchor", "an alias (a word that begins with *) is not allowed", "put the text in quotes, or write out what it stands for"},
	{"exceeded max depth", "brackets or indents are nested too deeply", "six levels are enough for any file of this kind"},
}

// searchedSize bounds the files whose syntax errors are located by parsing
// heads of the file; above it the parser's own line is taken.
const searchedSize = 1 << 18

// addSyntax reports an error of the YAML parser. The parser names the line where
// the surrounding block began, or the one before it, so the line is searched
// for: it is the last line of the shortest head of the file that already fails
// in the same way, found by halving.
func (d *Document) addSyntax(err error) {
	line, says := splitSyntax(err)
	if tab := d.tabLine(); tab > 0 {
		d.Report(Place{File: d.File, Line: tab, Column: strings.IndexByte(d.line(tab), '\t') + 1},
			"a tab is used to indent", "indent with spaces: two for each level")
		return
	}
	text := strings.Join(d.lines, "\n")
	if len(text) <= searchedSize {
		low, high := 1, len(d.lines)
		for low < high {
			mid := (low + high) / 2
			_, err := parseYAML([]byte(strings.Join(d.lines[:mid], "\n") + "\n"))
			if _, s := splitSyntax(err); s == says {
				high = mid
			} else {
				low = mid + 1
			}
		}
		line = low
	}
	line = min(max(line, 1), len(d.lines))
	for line > 1 && strings.TrimSpace(d.line(line)) == "" {
		line--
	}
	source := d.line(line)
	at := Place{File: d.File, Line: line, Column: len([]rune(source)) - len([]rune(strings.TrimLeft(source, " "))) + 1}
	if strings.HasPrefix(says, "mapping values") {
		if i := strings.LastIndex(source, ":"); i >= 0 {
			at.Column = len([]rune(source[:i])) + 1
		}
	}
	if column := openingColumn(source, says); column > 0 {
		at.Column = column
	}
	for _, h := range syntaxHelp {
		if strings.HasPrefix(says, h.says) {
			d.Report(at, h.message, h.hint)
			return
		}
	}
	d.Report(at, "this is not YAML: "+says, "check colons, quotes and indents: spaces, no tabs")
}

// openingColumn returns the column of what a line opens and does not close: the
// last such bracket (the last bracket when all are closed) or, for an open
// quotation, the last quotation mark; zero when there is none.
func openingColumn(source, says string) int {
	if strings.HasPrefix(says, "found unexpected end of stream") {
		if i := strings.LastIndexAny(source, `"'`); i >= 0 {
			return len([]rune(source[:i])) + 1
		}
	}
	if strings.HasPrefix(says, "found character that cannot start") {
		return len([]rune(source[:strings.LastIndexAny(source, "@`%\t")+1]))
	}
	if !strings.HasPrefix(says, "did not find expected ',' or") {
		return 0
	}
	var open []int
	for i, r := range []rune(source) {
		switch r {
		case '[', '{':
			open = append(open, i+1)
		case ']', '}':
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		}
	}
	if len(open) == 0 {
		return len([]rune(source[:strings.LastIndexAny(source, "[{")+1]))
	}
	return open[len(open)-1]
}

func splitSyntax(err error) (line int, says string) {
	if err == nil {
		return 0, ""
	}
	m := yamlErrorText.FindStringSubmatch(err.Error())
	if m == nil {
		return 0, err.Error()
	}
	line, _ = strconv.Atoi(m[1])
	return line, m[2]
}

// tabLine returns the first line with a tab in its indent or after the dash of
// a list item, zero when there is none.
func (d *Document) tabLine() int {
	for i, line := range d.lines {
		rest := strings.TrimLeft(line, " -")
		if strings.HasPrefix(rest, "\t") && strings.TrimSpace(rest) != "" {
			return i + 1
		}
	}
	return 0
}
