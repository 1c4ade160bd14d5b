package document

// Splice is one change of a text: the bytes From up to To, counted from 0, give way
// to Insert.
type Splice struct {
	From   int    `json:"from"`
	To     int    `json:"to"`
	Insert string `json:"insert"`
}

// Apply returns the changed text; data stays as it is.
func (s Splice) Apply(data []byte) []byte {
	out := make([]byte, 0, len(data)-(s.To-s.From)+len(s.Insert))
	out = append(out, data[:s.From]...)
	out = append(out, s.Insert...)
	return append(out, data[s.To:]...)
}

// Inverse returns the splice that takes s back; before is the text that s was made
// for.
func (s Splice) Inverse(before []byte) Splice {
	return Splice{From: s.From, To: s.From + len(s.Insert), Insert: string(before[s.From:s.To])}
}
