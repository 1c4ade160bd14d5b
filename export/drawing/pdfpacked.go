package drawing

import (
	"bytes"
	"errors"
)

var errCrossStream = errors.New("a cross-reference stream is damaged")

// crossStream reads a cross-reference stream (ISO 32000-1 clause 7.5.8); its
// dictionary is the trailer.
func (f *pdfFile) crossStream(at int) (pdfDict, error) {
	l := &pdfLexer{data: f.data, at: at}
	n, err := l.object(0)
	number, ok := n.(float64)
	if err != nil || !ok {
		return nil, errors.New("its cross-references are not where it says: the file is damaged")
	}
	v, err := f.read(int(number), at)
	if err != nil {
		return nil, err
	}
	s, ok := v.(pdfStream)
	if !ok || s.dict["Type"] != pdfName("XRef") {
		return nil, errors.New("its cross-references are not where it says: the file is damaged")
	}
	data, err := f.unfold(s)
	if err != nil {
		return nil, err
	}
	whole := func(v any) ([]int, bool) {
		list, ok := v.([]any)
		var out []int
		for _, e := range list {
			n, isNumber := e.(float64)
			ok = ok && isNumber && n >= 0 && n < 1e9
			out = append(out, int(n))
		}
		return out, ok
	}
	w, ok := whole(s.dict["W"]) // bytes of the three fields
	if !ok || len(w) != 3 || w[0] > 4 || w[1] > 8 || w[2] > 4 {
		return nil, errCrossStream
	}
	index := []int{0, len(data)}
	if s.dict["Index"] != nil {
		if index, ok = whole(s.dict["Index"]); !ok || len(index)%2 != 0 {
			return nil, errCrossStream
		}
	}
	field := func(size, absent int) int {
		if size == 0 {
			return absent
		}
		n := 0
		for _, b := range data[:size] {
			n = n<<8 | int(b)
		}
		data = data[size:]
		return n
	}
	for i := 0; i < len(index); i += 2 {
		for n := index[i]; n < index[i]+index[i+1] && len(data) >= w[0]+w[1]+w[2] && w[0]+w[1]+w[2] > 0; n++ {
			kind, second, third := field(w[0], 1), field(w[1], 0), field(w[2], 0)
			switch kind {
			case 0:
				f.know(n, -1)
			case 1:
				f.know(n, second)
			case 2:
				_, plain := f.offsets[n]
				if _, packed := f.packed[n]; !plain && !packed {
					f.packed[n] = [2]int{second, third}
				}
			}
		}
	}
	return s.dict, nil
}

// unpack returns an object of an object stream (clause 7.5.7).
func (f *pdfFile) unpack(stream, index int) (any, error) {
	objects, ok := f.streams[stream]
	if !ok {
		if f.inUse++; f.inUse > 20 {
			return nil, errors.New("it needs itself to be read")
		}
		defer func() { f.inUse-- }()
		v, err := f.get(pdfLink{number: stream})
		if err != nil {
			return nil, err
		}
		s, ok := v.(pdfStream)
		if !ok || s.dict["Type"] != pdfName("ObjStm") {
			return nil, errors.New("it is packed in what is no object stream: the file is damaged")
		}
		if objects, err = f.objects(s); err != nil {
			return nil, err
		}
		f.streams[stream] = objects
	}
	if index < 0 || index >= len(objects) {
		return nil, errors.New("it is not in its object stream: the file is damaged")
	}
	return objects[index], nil
}

// objects reads every object of an object stream, in the order of its table.
func (f *pdfFile) objects(s pdfStream) ([]any, error) {
	damaged := errors.New("an object stream is damaged")
	data, err := f.unfold(s)
	if err != nil {
		return nil, err
	}
	count, ok1 := s.dict["N"].(float64)
	first, ok2 := s.dict["First"].(float64)
	if !ok1 || !ok2 || count < 0 || count > 1e6 || first < 0 || int(first) > len(data) {
		return nil, damaged
	}
	table := &pdfLexer{data: data}
	var out []any
	for range int(count) {
		_, err1 := table.object(0)
		at, err2 := table.object(0)
		offset, ok := at.(float64)
		if err1 != nil || err2 != nil || !ok || offset < 0 || int(first+offset) > len(data) {
			return nil, damaged
		}
		l := &pdfLexer{data: data, at: int(first + offset), refs: true}
		v, err := l.object(0)
		if err != nil {
			return nil, damaged
		}
		out = append(out, v)
	}
	return out, nil
}

// passImage moves behind an inline image (clause 8.9.7), whose data may hold
// anything: its end is EI between blanks.
func (l *pdfLexer) passImage() {
	for {
		i := bytes.Index(l.data[l.at:], []byte("EI"))
		if i < 0 {
			l.at = len(l.data)
			return
		}
		end := l.at + i + 2
		before := l.at + i - 1
		if before >= 0 && pdfBlank(l.data[before]) && (end == len(l.data) || pdfBlank(l.data[end])) {
			l.at = end
			return
		}
		l.at = end
	}
}
