package scan

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
)

// scanNumbers hands out the numbers of PLY rows.
type scanNumbers interface {
	begin() error // of a row; it moves on in the data, or the row's numbers do
	number(kind string) (float64, error)
	end() error
	place(s *scanSink, err error) error
}

// scanTextRow reads rows of text: one row, one line.
type scanTextRow struct {
	lines  scanLines
	tokens [][]byte
	used   int
}

func (r *scanTextRow) begin() error {
	for {
		line, ok := r.lines.next()
		if !ok {
			return errScanCutOff
		}
		if r.tokens, r.used = bytes.Fields(line), 0; len(r.tokens) > 0 {
			return nil
		}
	}
}

func (r *scanTextRow) number(string) (float64, error) {
	if r.used == len(r.tokens) {
		return 0, fmt.Errorf("the row has only %d numbers: export the file again", r.used)
	}
	r.used++
	return scanNumber(r.tokens[r.used-1])
}

func (r *scanTextRow) end() error {
	if r.used < len(r.tokens) {
		return fmt.Errorf("the row has %d numbers, %d are due: export the file again", len(r.tokens), r.used)
	}
	return nil
}

func (r *scanTextRow) place(s *scanSink, err error) error { return s.atLine(r.lines.line, err) }

// scanBinaryRow reads packed numbers.
type scanBinaryRow struct {
	all   []byte
	at    int
	order binary.ByteOrder
}

func (r *scanBinaryRow) begin() error { return nil }
func (r *scanBinaryRow) end() error   { return nil }

func (r *scanBinaryRow) number(kind string) (float64, error) {
	size := scanSizes[kind]
	if len(r.all)-r.at < size {
		return 0, errScanCutOff
	}
	b := r.all[r.at : r.at+size]
	r.at += size
	switch kind {
	case "i1":
		return float64(int8(b[0])), nil
	case "u1":
		return float64(b[0]), nil
	case "i2":
		return float64(int16(r.order.Uint16(b))), nil
	case "u2":
		return float64(r.order.Uint16(b)), nil
	case "i4":
		return float64(int32(r.order.Uint32(b))), nil
	case "u4":
		return float64(r.order.Uint32(b)), nil
	case "f4":
		return float64(math.Float32frombits(r.order.Uint32(b))), nil
	}
	return math.Float64frombits(r.order.Uint64(b)), nil
}

func (r *scanBinaryRow) place(s *scanSink, err error) error { return s.atByte(r.at, err) }
