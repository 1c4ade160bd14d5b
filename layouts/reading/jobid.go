package reading

import (
	"crypto/rand"
	"regexp"
	"strings"
)

// jobForm is what a job's id is made of.
var jobForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9-]{0,39}$`)

// jobID reads the id of a job: letters, digits and hyphens, 40 at most; empty where it is
// left out.
func (v value) jobID() string {
	if !v.Written() {
		return ""
	}
	id := v.Text()
	if id != "" && !jobForm.MatchString(id) {
		v.Fail("write "+exampleOf("", "job"), "%q is no id of a job", id)
		return ""
	}
	return id
}

// jobLetters leave out those that are taken for others when read aloud or by hand.
const jobLetters = "abcdefghjkmnpqrstvwxyz23456789"

// NewJobID returns an id that no other job has, for a new layout: twelve characters by
// chance, 58 bits, in three groups that begin with a letter.
func NewJobID() string {
	var random [12]byte
	if _, err := rand.Read(random[:]); err != nil {
		panic("no random numbers: " + err.Error()) // the system has none to give
	}
	var b strings.Builder
	for i, r := range random {
		letters := jobLetters
		if i%4 == 0 {
			letters = jobLetters[:22]
			if i > 0 {
				b.WriteByte('-')
			}
		}
		b.WriteByte(letters[int(r)%len(letters)])
	}
	return b.String()
}

// WithJobID puts an id into the text of a layout, after its name; a text without a name
// in the first column, or with an id already, is returned as it is.
func WithJobID(text, id string) string {
	if strings.Contains("\n"+text, "\njob:") {
		return text
	}
	before, rest, found := strings.Cut("\n"+text, "\nname:")
	if !found {
		return text
	}
	line, rest, _ := strings.Cut(rest, "\n")
	return strings.TrimPrefix(before+"\nname:"+line+"\njob: "+id+" # this job's own: ticks and readings are kept under it\n"+rest, "\n")
}
