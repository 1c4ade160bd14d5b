package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// largestContent bounds what the streams of a file may unfold to, in bytes.
const largestContent = 32 << 20

var errUnfolds = fmt.Errorf("its pages hold more than %d MB once unpacked: send one page, or the layer to cut alone", largestContent>>20)

// pdfFile finds objects by number through the cross-reference table.
type pdfFile struct {
	data    []byte
	offsets map[int]int    // place of an object in data; -1: free
	packed  map[int][2]int // an object within a stream: number of the stream, index in it
	streams map[int][]any  // objects of the streams unpacked so far, in order
	trailer pdfDict
	inUse   int // how many objects are being read one inside another
	budget  int // bytes that streams may still unfold to
}

// openPDF reads the cross-reference tables and streams (ISO 32000-1 clauses 7.5.4
// and 7.5.8), newest first. Encrypted files are errors.
func openPDF(data []byte) (*pdfFile, error) {
	if !bytes.HasPrefix(data, []byte("%PDF-")) {
		return nil, errors.New("it does not begin with %PDF: it is not a PDF file")
	}
	f := &pdfFile{data: data, offsets: map[int]int{}, packed: map[int][2]int{}, streams: map[int][]any{}, budget: largestContent}
	mark := bytes.LastIndex(data, []byte("startxref"))
	if mark < 0 {
		return nil, errors.New("it has no startxref: the file is cut short")
	}
	l := &pdfLexer{data: data, at: mark + len("startxref")}
	next, err := l.object(0)
	if err != nil {
		return nil, err
	}
	seen := map[int]bool{}
	for next != nil {
		v, ok := next.(float64)
		at := int(v)
		if !ok || v != float64(at) || at < 0 || at >= len(data) || seen[at] {
			return nil, errors.New("the place of a cross-reference table is wrong: the file is damaged")
		}
		seen[at] = true
		trailer, err := f.table(at)
		if err != nil {
			return nil, err
		}
		if f.trailer == nil {
			f.trailer = trailer
		}
		next = trailer["Prev"]
	}
	if f.trailer["Encrypt"] != nil {
		return nil, errors.New("it is encrypted: save it without a password")
	}
	return f, nil
}

// table reads one cross-reference table and its trailer. What a newer table
// said of an object stands.
func (f *pdfFile) table(at int) (pdfDict, error) {
	l := &pdfLexer{data: f.data, at: at}
	if l.blanks(); l.regular() != "xref" {
		return f.crossStream(at)
	}
	whole := func() (int, error) {
		l.blanks()
		return strconv.Atoi(l.regular())
	}
	for {
		l.blanks()
		back := l.at
		if l.regular() == "trailer" {
			break
		}
		l.at = back
		first, err1 := whole()
		count, err2 := whole()
		if err1 != nil || err2 != nil || first < 0 || count < 0 {
			return nil, errors.New("a cross-reference table is damaged")
		}
		for n := first; n < first+count; n++ {
			offset, err1 := whole()
			_, err2 := whole()
			l.blanks()
			kind := l.regular()
			if err1 != nil || err2 != nil || (kind != "n" && kind != "f") {
				return nil, errors.New("a cross-reference table is damaged")
			}
			if kind == "f" {
				offset = -1
			}
			f.know(n, offset)
		}
	}
	l.refs = true
	v, err := l.object(0)
	trailer, ok := v.(pdfDict)
	if err != nil || !ok {
		return nil, errors.New("the trailer is damaged")
	}
	if at, ok := trailer["XRefStm"].(float64); ok { // clause 7.5.8.4: a file for old and new readers
		if at < 0 || int(at) >= len(f.data) {
			return nil, errors.New("the place of a cross-reference stream is wrong: the file is damaged")
		}
		if _, err := f.crossStream(int(at)); err != nil {
			return nil, err
		}
	}
	return trailer, nil
}

// get follows references until it has an object; an object that does not exist
// is nil (clause 7.3.10).
func (f *pdfFile) get(v any) (any, error) {
	for hops := 0; ; hops++ {
		link, ok := v.(pdfLink)
		if !ok {
			return v, nil
		}
		if hops > 20 {
			return nil, errors.New("objects refer to one another in a circle")
		}
		var err error
		if in, ok := f.packed[link.number]; ok {
			if v, err = f.unpack(in[0], in[1]); err != nil {
				return nil, placed(fmt.Sprintf("object %d: ", link.number), err)
			}
			continue
		}
		at, ok := f.offsets[link.number]
		if !ok || at < 0 {
			return nil, nil
		}
		if v, err = f.read(link.number, at); err != nil {
			return nil, placed(fmt.Sprintf("object %d: ", link.number), err)
		}
	}
}

// know remembers where an object is, unless a newer table said so already.
func (f *pdfFile) know(n, offset int) {
	_, plain := f.offsets[n]
	_, packed := f.packed[n]
	if !plain && !packed {
		f.offsets[n] = offset
	}
}

func (f *pdfFile) read(number, at int) (any, error) {
	if f.inUse++; f.inUse > 20 {
		return nil, errors.New("it needs itself to be read")
	}
	defer func() { f.inUse-- }()
	if at >= len(f.data) {
		return nil, errors.New("it is said to lie behind the end of the file: the file is cut short")
	}
	l := &pdfLexer{data: f.data, at: at, refs: true}
	l.blanks()
	n, err := strconv.Atoi(l.regular())
	l.blanks()
	l.regular()
	if l.blanks(); err != nil || n != number || l.regular() != "obj" {
		return nil, errors.New("it is not where the cross-reference table says: the file is damaged")
	}
	v, err := l.object(0)
	if err != nil {
		return nil, err
	}
	dict, ok := v.(pdfDict)
	if l.blanks(); !ok || !bytes.HasPrefix(l.data[l.at:], []byte("stream")) {
		return v, nil
	}
	l.at += len("stream")
	if bytes.HasPrefix(l.data[l.at:], []byte("\r\n")) {
		l.at++
	}
	l.at++
	length, err := f.get(dict["Length"])
	if err != nil {
		return nil, err
	}
	size, ok := length.(float64)
	if !ok || size < 0 || size != float64(int(size)) || l.at+int(size) > len(f.data) || l.at+int(size) < l.at {
		return nil, errors.New("the length of its stream is wrong: the file is damaged")
	}
	end := &pdfLexer{data: f.data, at: l.at + int(size)}
	if end.blanks(); end.regular() != "endstream" {
		return nil, errors.New("its stream does not end where it says: the file is damaged")
	}
	return pdfStream{dict, f.data[l.at : l.at+int(size)]}, nil
}

func (f *pdfFile) dict(v any) (pdfDict, error) {
	o, err := f.get(v)
	if err != nil {
		return nil, err
	}
	switch d := o.(type) {
	case nil:
		return pdfDict{}, nil
	case pdfDict:
		return d, nil
	case pdfStream:
		return d.dict, nil
	}
	return nil, errors.New("a dictionary is missing: the file is damaged")
}

func (f *pdfFile) numbers(v any, count int) ([]float64, error) {
	o, err := f.get(v)
	if err != nil {
		return nil, err
	}
	list, ok := o.([]any)
	if !ok || len(list) != count {
		return nil, fmt.Errorf("%d numbers are missing", count)
	}
	out := make([]float64, count)
	for i, e := range list {
		if e, err = f.get(e); err != nil {
			return nil, err
		}
		if out[i], ok = e.(float64); !ok {
			return nil, fmt.Errorf("%d numbers are missing", count)
		}
	}
	return out, nil
}

// Text reads a text string: UTF-16BE with its mark, UTF-8 with its mark (PDF
// 2.0), or else one byte a character, which is right for ASCII.
func (s pdfString) text() string {
	b := []byte(s)
	switch {
	case bytes.HasPrefix(b, []byte("\xfe\xff")):
		var u []uint16
		for i := 2; i+1 < len(b); i += 2 {
			u = append(u, uint16(b[i])<<8|uint16(b[i+1]))
		}
		return string(utf16.Decode(u))
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		return string(b[3:])
	}
	var r []rune
	for _, c := range b {
		r = append(r, rune(c))
	}
	return string(r)
}

// placed puts a place before an error, once: what refers to itself is met again and
// again on the way out.
func placed(place string, err error) error {
	if strings.HasPrefix(err.Error(), place) {
		return err
	}
	return fmt.Errorf("%s%w", place, err)
}
