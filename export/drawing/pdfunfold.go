package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/ascii85"
	"errors"
	"fmt"
	"io"
)

// mostFilters bounds the filters of one stream.
const mostFilters = 8

// unfold returns the data of a stream, its filters undone in their order (ISO 32000-1
// clause 7.4): base 16, base 85, run lengths, LZW and deflate, the last two with or
// without a predictor. What each filter yields counts against the file's budget.
//
// Errors: other filters, damaged data, more than the budget.
func (f *pdfFile) unfold(s pdfStream) ([]byte, error) {
	filters, err := f.list(s.dict["Filter"])
	if err != nil {
		return nil, err
	}
	parms, err := f.list(s.dict["DecodeParms"])
	if err != nil {
		return nil, err
	}
	if len(filters) > mostFilters {
		return nil, fmt.Errorf("a stream is packed %d times over: save the file without compression", len(filters))
	}
	data := s.data
	if len(filters) == 0 {
		return data, f.spend(len(data))
	}
	for i, name := range filters {
		var dict pdfDict
		if i < len(parms) && parms[i] != nil {
			var ok bool
			if dict, ok = parms[i].(pdfDict); !ok {
				return nil, errors.New("how a stream is packed is damaged")
			}
		}
		if data, err = f.unfilter(data, name, dict); err != nil {
			return nil, err
		}
	}
	return data, nil
}

// list returns an array, its items followed; what is no array is one of one item, and
// nothing is none.
func (f *pdfFile) list(v any) ([]any, error) {
	v, err := f.get(v)
	if err != nil || v == nil {
		return nil, err
	}
	list, ok := v.([]any)
	if !ok {
		return []any{v}, nil
	}
	out := make([]any, len(list))
	for i, one := range list {
		if out[i], err = f.get(one); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// spend takes bytes off the budget.
func (f *pdfFile) spend(n int) error {
	if f.budget -= n; f.budget < 0 {
		return errUnfolds
	}
	return nil
}

// unfilter undoes one filter.
func (f *pdfFile) unfilter(data []byte, name any, parms pdfDict) ([]byte, error) {
	var out []byte
	var err error
	switch name {
	case pdfName("FlateDecode"), pdfName("Fl"):
		out, err = inflated(data, f.budget)
	case pdfName("LZWDecode"), pdfName("LZW"):
		out, err = unLZW(data, parms["EarlyChange"] != 0.0, f.budget)
	case pdfName("ASCII85Decode"), pdfName("A85"):
		text, _, _ := bytes.Cut(data, []byte("~>"))
		out = make([]byte, len(text)/5*4+4*bytes.Count(text, []byte("z"))+8) // z stands for four zeros
		var n int
		n, _, err = ascii85.Decode(out, text, true)
		out = out[:n]
	case pdfName("ASCIIHexDecode"), pdfName("AHx"):
		var v any
		if v, err = (&pdfLexer{data: append(append([]byte{'<'}, bytes.TrimRight(data, "> \r\n\t")...), '>')}).hexString(); err == nil {
			out = []byte(v.(pdfString))
		}
	case pdfName("RunLengthDecode"), pdfName("RL"):
		out, err = unRun(data, f.budget)
	default:
		return nil, fmt.Errorf("a stream is packed by %v, which is not read: save the file without compression", name)
	}
	if err != nil {
		return nil, fmt.Errorf("a stream does not unfold: %w", err)
	}
	if err := f.spend(len(out)); err != nil {
		return nil, err
	}
	return f.unpredict(out, parms)
}

// inflated undoes deflate. It counts what comes out before it keeps any, so that what is
// more than the budget takes no memory, and the rest no more than its size.
func inflated(data []byte, budget int) ([]byte, error) {
	z, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	n, err := io.Copy(io.Discard, io.LimitReader(z, int64(budget)+1))
	if err != nil {
		return nil, err
	}
	if n > int64(budget) {
		return nil, errUnfolds
	}
	if err := z.(zlib.Resetter).Reset(bytes.NewReader(data), nil); err != nil {
		return nil, err
	}
	out := make([]byte, n)
	_, err = io.ReadFull(z, out)
	return out, err
}

// unRun undoes run lengths (clause 7.4.5), at most one byte more than the budget.
func unRun(data []byte, budget int) ([]byte, error) {
	var out []byte
	for len(data) > 0 && data[0] != 128 && len(out) <= budget {
		n := int(data[0])
		if n < 128 {
			if len(data) < n+2 {
				return nil, io.ErrUnexpectedEOF
			}
			out, data = append(out, data[1:n+2]...), data[n+2:]
			continue
		}
		if len(data) < 2 {
			return nil, io.ErrUnexpectedEOF
		}
		out, data = append(out, bytes.Repeat(data[1:2], 257-n)...), data[2:]
	}
	return out, nil
}

// unLZW undoes LZW (clause 7.4.4.2): codes of 9 to 12 bits, the first bit the highest,
// 256 to begin anew, 257 at the end. Early: codes grow by a bit one code before they
// must. At most some bytes more than the budget.
func unLZW(data []byte, early bool, budget int) ([]byte, error) {
	const begin, end = 256, 257
	type entry struct {
		from, length int // in what was put out
	}
	var out []byte
	table := make([]entry, 258, 4096)
	width, last := 9, entry{}
	bits, held := uint32(0), 0
	sooner := 0
	if early {
		sooner = 1
	}
	for len(out) <= budget {
		for held < width {
			if len(data) == 0 {
				return out, nil // files without an end code are read by others as well
			}
			bits, held, data = bits<<8|uint32(data[0]), held+8, data[1:]
		}
		code := int(bits >> (held - width) & (1<<width - 1))
		held -= width
		switch {
		case code == end:
			return out, nil
		case code == begin:
			table, width, last = table[:258], 9, entry{}
			continue
		}
		now := entry{len(out), 1}
		switch {
		case code < begin:
			out = append(out, byte(code))
		case code < len(table):
			e := table[code]
			now.length = e.length
			out = append(out, out[e.from:e.from+e.length]...)
		case code == len(table) && last.length > 0:
			now.length = last.length + 1
			out = append(append(out, out[last.from:last.from+last.length]...), out[last.from])
		default:
			return nil, errors.New("a code of LZW stands for nothing")
		}
		if last.length > 0 && len(table) < 4096 {
			table = append(table, entry{last.from, last.length + 1}) // the last and the first of now, which follows it
		}
		if last = now; width < 12 && len(table)+sooner >= 1<<width {
			width++
		}
	}
	return out, nil
}

// unpredict undoes a PNG predictor (ISO 32000-1 clause 7.4.4.4; the filters are
// those of PNG, ISO/IEC 15948 clause 9.2). Other predictors are errors.
func (f *pdfFile) unpredict(data []byte, parms pdfDict) ([]byte, error) {
	number := func(name pdfName, absent int) int {
		if v, err := f.get(parms[name]); err == nil {
			if n, ok := v.(float64); ok && n >= 0 && n < 1e6 {
				return int(n)
			}
		}
		return absent
	}
	predictor := number("Predictor", 1)
	if predictor == 1 {
		return data, nil
	}
	pixel := max(1, number("Colors", 1)*number("BitsPerComponent", 8)/8)
	width := (number("Columns", 1)*number("Colors", 1)*number("BitsPerComponent", 8) + 7) / 8
	if predictor < 10 || width < 1 {
		return nil, fmt.Errorf("a stream has predictor %d, which is not read: save the file without compression", predictor)
	}
	var out []byte
	above := make([]byte, width)
	for at := 0; at < len(data); at += width + 1 {
		if at+1+width > len(data) {
			return nil, errors.New("a predicted stream ends within a row: the file is damaged")
		}
		row := bytes.Clone(data[at+1 : at+1+width])
		for i := range row {
			var left, corner byte
			if i >= pixel {
				left, corner = row[i-pixel], above[i-pixel]
			}
			switch data[at] {
			case 0:
			case 1:
				row[i] += left
			case 2:
				row[i] += above[i]
			case 3:
				row[i] += byte((int(left) + int(above[i])) / 2)
			case 4:
				row[i] += paeth(left, above[i], corner)
			default:
				return nil, fmt.Errorf("a predicted row has the unknown filter %d: the file is damaged", data[at])
			}
		}
		out, above = append(out, row...), row
	}
	return out, nil
}

// paeth is the predictor of PNG's filter 4 (ISO/IEC 15948 clause 9.4).
func paeth(a, b, c byte) byte {
	p := int(a) + int(b) - int(c)
	distance := func(v byte) int {
		if d := p - int(v); d >= 0 {
			return d
		} else {
			return -d
		}
	}
	switch da, db, dc := distance(a), distance(b), distance(c); {
	case da <= db && da <= dc:
		return a
	case db <= dc:
		return b
	}
	return c
}
