package bench

import (
	"encoding/json"
	"testing"
)

// FuzzAsk: whatever the request, there is one last answer with its id, no fault of the
// program, and the text is what its hash says.
func FuzzAsk(f *testing.F) {
	for _, q := range []string{
		`{"v":1,"id":1,"ask":"hello"}`,
		`{"v":1,"id":2,"ask":"edit","path":"markings[code].where.wl","value":"53-1/8 in"}`,
		`{"v":1,"id":3,"ask":"edit","splice":{"from":3,"to":9,"insert":"x"}}`,
		`{"v":1,"id":4,"ask":"edit","remove":"markings[code]"}`,
		`{"v":1,"id":5,"ask":"edit","add":"markings","yaml":"{id: a}"}`,
		`{"v":1,"id":6,"ask":"edit","duplicate":"markings[code]","as":"code-2"}`,
		`{"v":1,"id":7,"ask":"undo"}`,
		`{"v":1,"id":8,"ask":"figure","marking":"code"}`,
		`{"v":1,"id":9,"ask":"rule","rule":"an-i-9b/star-and-bars","size":"20 in"}`,
		`{"v":1,"id":10,"ask":"alphabets","text":"K4"}`,
		`{"v":1,"id":11,"ask":"open","text":"name: x","data":"e30="}`,
		`{"v":1,"id":12,"ask":"drawing","name":"a.svg","data":"PHN2Zy8+"}`,
		`{"v":1,"id":13,"ask":"save"}`,
		`{"v":1,"id":14,"ask":"markings"}`,
	} {
		f.Add([]byte(q))
	}
	text := demoText(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		var q Request
		if json.Unmarshal(data, &q) != nil {
			return
		}
		switch q.Ask {
		case "told", "film", "findings", "check", "run", "outline", "take", "pack": // for long, or tried elsewhere
			return
		}
		b := openMemory(t, text)
		q.Of = b.hash
		n := 0
		b.Ask(t.Context(), q, func(a Answer) {
			if a.Done {
				n++
			}
			if a.ID != q.ID {
				t.Errorf("answer of %d to %d", a.ID, q.ID)
			}
			if a.Error != nil && a.Error.Code == CodeFault {
				t.Errorf("%s: %s", data, a.Error.Message)
			}
		})
		if n != 1 {
			t.Errorf("%d last answers", n)
		}
		if b.hash != Hash(b.file.Text()) {
			t.Error("the text is not what its hash says")
		}
	})
}
