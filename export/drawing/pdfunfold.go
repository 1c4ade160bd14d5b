package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/ascii85"
	"errors"
	"fmt"
	"io"
)

// unfold returns the data of a stream, its filters undone: none, or deflate with or
// without a predictor, and before it digits of base 85.
func (f *pdfFile) unfold(s pdfStream) ([]byte, error) {
	s, err := f.undigited(s)
	if err != nil {
		return nil, err
	}
	one := func(v any) (any, error) { // a filter, or an array of one
		v, err := f.get(v)
		if list, ok := v.([]any); ok && err == nil {
			switch len(list) {
			case 0:
				return nil, nil
			case 1:
				return f.get(list[0])
			}
		}
		return v, err
	}
	filter, err := one(s.dict["Filter"])
	if err != nil {
		return nil, err
	}
	parms, err := one(s.dict["DecodeParms"])
	if err != nil {
		return nil, err
	}
	if filter == nil {
		if f.budget -= len(s.data); f.budget < 0 {
			return nil, errUnfolds
		}
		return s.data, nil
	}
	dict, ok := parms.(pdfDict)
	if filter != pdfName("FlateDecode") || (parms != nil && !ok) {
		return nil, fmt.Errorf("a stream is packed by %v, which is not read: save the file without compression", filter)
	}
	z, err := zlib.NewReader(bytes.NewReader(s.data))
	if err != nil {
		return nil, fmt.Errorf("a stream does not unfold: %w", err)
	}
	out, err := io.ReadAll(io.LimitReader(z, int64(f.budget)+1))
	if err != nil {
		return nil, fmt.Errorf("a stream does not unfold: %w", err)
	}
	if f.budget -= len(out); f.budget < 0 {
		return nil, errUnfolds
	}
	return f.unpredict(out, dict)
}

// undigited undoes a first filter of base 85 digits (ISO 32000-1 clause 7.4.3) and takes
// it off the list.
func (f *pdfFile) undigited(s pdfStream) (pdfStream, error) {
	filter, err := f.get(s.dict["Filter"])
	if err != nil {
		return s, err
	}
	list, ok := filter.([]any)
	if !ok {
		list = []any{filter}
	}
	if len(list) == 0 {
		return s, nil
	}
	if first, err := f.get(list[0]); err != nil || first != pdfName("ASCII85Decode") {
		return s, err
	}
	text, _, _ := bytes.Cut(s.data, []byte("~>"))
	out := make([]byte, 4*len(text)+4) // z stands for four zeros
	n, _, err := ascii85.Decode(out, text, true)
	if err != nil {
		return s, fmt.Errorf("a stream does not unfold: %w", err)
	}
	dict := pdfDict{}
	for k, v := range s.dict {
		dict[k] = v
	}
	dict["Filter"] = list[1:]
	if parms, ok := s.dict["DecodeParms"].([]any); ok && len(parms) > 0 {
		dict["DecodeParms"] = parms[1:]
	}
	s.dict, s.data = dict, out[:n]
	return s, nil
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
