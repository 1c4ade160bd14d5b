package bench

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// listen serves a bench and lets one page in.
func listen(t *testing.T, b *Bench) (s *Server, token string) {
	t.Helper()
	s, err := Listen(b)
	require.NoError(t, err)
	ctx, end := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	t.Cleanup(func() {
		end()
		require.NoError(t, <-done)
	})
	code, _, body := raw(t, s, post("/ticket", s, map[string]string{}, `{"ticket":"`+ticketOf(s)+`"}`))
	require.Equal(t, 200, code)
	var in struct{ Token string }
	require.NoError(t, json.Unmarshal(body, &in))
	require.Len(t, in.Token, 64)
	return s, in.Token
}

func ticketOf(s *Server) string {
	_, ticket, _ := strings.Cut(s.Address(), "#")
	return ticket
}

// post is a request as its bytes; headers given as "" are left out.
func post(path string, s *Server, headers map[string]string, body string) string {
	all := map[string]string{"Host": s.host, "Origin": "http://" + s.host, "Content-Type": "application/json", "Sec-Fetch-Site": "same-origin"}
	for k, v := range headers {
		all[k] = v
	}
	var b strings.Builder
	fmt.Fprintf(&b, "POST %s HTTP/1.1\r\n", path)
	for _, k := range []string{"Host", "Origin", "Content-Type", "Sec-Fetch-Site", tokenHeader, "Cookie"} {
		if all[k] != "" {
			fmt.Fprintf(&b, "%s: %s\r\n", k, all[k])
		}
	}
	fmt.Fprintf(&b, "Content-Length: %d\r\nConnection: close\r\n\r\n%s", len(body), body)
	return b.String()
}

// raw sends bytes to the port and reads what comes.
func raw(t *testing.T, s *Server, request string) (int, http.Header, []byte) {
	t.Helper()
	c, err := net.Dial("tcp", s.host)
	require.NoError(t, err)
	defer c.Close()
	require.NoError(t, c.SetDeadline(time.Now().Add(20*time.Second)))
	_, err = io.WriteString(c, request)
	require.NoError(t, err)
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	require.NoError(t, err)
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	require.Empty(t, r.Header.Get("Access-Control-Allow-Origin"))
	require.Equal(t, "nosniff", r.Header.Get("X-Content-Type-Options"))
	return r.StatusCode, r.Header, body
}

// TestWhoIsLetIn: a page of this address with the token is answered; whoever comes by
// another name, from another page, without the token or with a ticket that was used is
// not, and learns nothing of the layout.
func TestWhoIsLetIn(t *testing.T) { whoIsLetIn(t) }

// TestWhoIsLetInIPv6: the same where 127.0.0.1 cannot be had and ::1 stands for it.
func TestWhoIsLetInIPv6(t *testing.T) {
	l, err := net.Listen("tcp6", "[::1]:0")
	if err != nil {
		t.Skip("this machine has no ::1: ", err)
	}
	require.NoError(t, l.Close())
	was := loopback
	t.Cleanup(func() { loopback = was })
	loopback = [][2]string{{"tcp4", "192.0.2.1:0"}, was[1]} // RFC 5737: an address that no machine has
	whoIsLetIn(t)
}

func whoIsLetIn(t *testing.T) {
	b, _ := openFolder(t)
	secretName := "Kittock"
	require.Contains(t, string(b.file.Text()), secretName)
	s, token := listen(t, b)
	open := `{"v":1,"id":1,"ask":"open"}`
	with := func(h map[string]string) map[string]string {
		out := map[string]string{tokenHeader: token}
		for k, v := range h {
			out[k] = v
		}
		return out
	}
	code, _, body := raw(t, s, post("/ask", s, with(nil), open))
	require.Equal(t, 200, code)
	require.Contains(t, string(body), secretName)

	_, port, err := net.SplitHostPort(s.host)
	require.NoError(t, err)
	get := func(path string, headers string) string {
		return "GET " + path + " HTTP/1.1\r\nHost: " + s.host + "\r\nConnection: close\r\n" + headers + "\r\n"
	}
	for _, c := range []struct {
		name    string
		code    int
		request string
	}{
		{"another host", 421, post("/ask", s, with(map[string]string{"Host": "evil.example"}), open)},
		{"another host, the page", 421, "GET / HTTP/1.1\r\nHost: evil.example:" + port + "\r\nConnection: close\r\n\r\n"},
		{"localhost", 421, post("/ask", s, with(map[string]string{"Host": "localhost:" + port}), open)},
		{"host without port", 421, post("/ask", s, with(map[string]string{"Host": "127.0.0.1"}), open)},
		{"another port", 421, post("/ask", s, with(map[string]string{"Host": "127.0.0.1:1"}), open)},
		{"whole address as target, another host", 421, strings.Replace(post("/ask", s, with(nil), open), "POST /ask", "POST http://evil.example/ask", 1)},
		{"another origin", 403, post("/ask", s, with(map[string]string{"Origin": "https://evil.example"}), open)},
		{"no origin", 403, post("/ask", s, with(map[string]string{"Origin": ""}), open)},
		{"null origin", 403, post("/ask", s, with(map[string]string{"Origin": "null"}), open)},
		{"origin of another port", 403, post("/ask", s, with(map[string]string{"Origin": "http://127.0.0.1:1"}), open)},
		{"cross-site", 403, post("/ask", s, with(map[string]string{"Sec-Fetch-Site": "cross-site"}), open)},
		{"same-site, another port", 403, post("/ask", s, with(map[string]string{"Sec-Fetch-Site": "same-site"}), open)},
		{"no token", 403, post("/ask", s, nil, open)},
		{"wrong token", 403, post("/ask", s, map[string]string{tokenHeader: strings.Repeat("0", 64)}, open)},
		{"part of the token", 403, post("/ask", s, map[string]string{tokenHeader: token[:63]}, open)},
		{"token as a cookie", 403, post("/ask", s, map[string]string{"Cookie": tokenHeader + "=" + token}, open)},
		{"as a form", 415, post("/ask", s, with(map[string]string{"Content-Type": "application/x-www-form-urlencoded"}), open)},
		{"as text", 415, post("/ask", s, with(map[string]string{"Content-Type": "text/plain"}), open)},
		{"another path", 404, post("/etc/passwd", s, with(nil), open)},
		{"no JSON", 400, post("/ask", s, with(nil), "x")},
		{"another ticket without the token", 403, post("/another", s, nil, "{}")},
		{"wrong ticket", 403, post("/ticket", s, nil, `{"ticket":"0"}`)},
		{"no ticket", 403, post("/ticket", s, nil, `{}`)},
		{"get of ask", 404, get("/ask", "")},
		{"the layout by its name", 404, get("/mine.yaml", "")},
		{"up from the page", 404, get("/../mine.yaml", "")},
		{"the engine's source", 404, get("/built/page.js", "")},
		{"the script for a foreign page", 403, get("/page.js", "Sec-Fetch-Site: cross-site\r\n")},
		{"preflight", 403, "OPTIONS /ask HTTP/1.1\r\nHost: " + s.host + "\r\nOrigin: http://" + s.host + "\r\nAccess-Control-Request-Method: POST\r\nConnection: close\r\n\r\n"},
		{"put", 403, strings.Replace(post("/ask", s, with(nil), open), "POST", "PUT", 1)},
		{"delete", 403, strings.Replace(post("/ask", s, with(nil), open), "POST", "DELETE", 1)},
	} {
		code, _, body := raw(t, s, c.request)
		require.Equal(t, c.code, code, "%s: %s", c.name, body)
		require.NotContains(t, string(body), secretName, c.name)
		require.NotContains(t, string(body), token, c.name)
	}

	// the page itself holds nothing of the layout, and may load nothing from elsewhere
	code, header, body := raw(t, s, get("/", ""))
	require.Equal(t, 200, code)
	require.NotContains(t, string(body), secretName)
	require.Contains(t, header.Get("Content-Security-Policy"), "default-src 'none'")
	require.Equal(t, "no-store", header.Get("Cache-Control"))
	require.Equal(t, "same-origin", header.Get("Cross-Origin-Resource-Policy"))

	// a ticket lets in once, for a minute
	ticket := `{"ticket":"` + ticketOf(s) + `"}`
	code, _, _ = raw(t, s, post("/ticket", s, nil, ticket))
	require.Equal(t, 200, code)
	code, _, _ = raw(t, s, post("/ticket", s, nil, ticket))
	require.Equal(t, 403, code)
	ticket = `{"ticket":"` + ticketOf(s) + `"}`
	s.door.now = func() time.Time { return time.Now().Add(ticketLife + time.Second) }
	code, _, _ = raw(t, s, post("/ticket", s, nil, ticket))
	require.Equal(t, 403, code)
}

// TestLoopbackOnly: the port is not open on another address of the machine.
func TestLoopbackOnly(t *testing.T) {
	s, err := Listen(openMemory(t, "x: 1\n"))
	require.NoError(t, err)
	defer s.listen.Close()
	at := s.listen.Addr().(*net.TCPAddr)
	require.True(t, at.IP.IsLoopback())
	require.True(t, at.IP.Equal(net.IPv4(127, 0, 0, 1)))
}

// TestLinksAreNotFollowedOut: a link beside the layout that leads out of its folder is
// read neither as a file that the layout names nor by its name as a path.
func TestLinksAreNotFollowedOut(t *testing.T) {
	outside := t.TempDir()
	secret := filepath.Join(outside, "secret.yaml")
	require.NoError(t, os.WriteFile(secret, []byte("name: SECRET-AIRCRAFT\n"), 0o600))
	b, folder := openFolder(t)
	if err := os.Symlink(secret, filepath.Join(folder, "link.yaml")); err != nil {
		t.Skip("no links on this system")
	}
	require.NoError(t, os.Symlink(outside, filepath.Join(folder, "way")))
	files := b.Home.Files()
	for _, name := range []string{"link.yaml", "way/secret.yaml", "../" + filepath.Base(outside) + "/secret.yaml", secret, ".mine.yaml.draft", "way"} {
		in, err := files.Open(name)
		if err == nil {
			_, err = io.ReadAll(in)
			_ = in.Close()
		}
		require.Error(t, err, name)
	}
	require.Equal(t, CodeDisk, code(t, b, Request{Ask: "save", Name: "link.yaml"}))
	require.Equal(t, CodeDisk, code(t, b, Request{Ask: "pack", To: "folder", Name: "way"}), "a link is no folder of ours")
	require.Equal(t, CodeAsk, code(t, b, Request{Ask: "pack", To: "folder", Name: "../out"}))
	text := "name: x\naircraft: link.yaml\n"
	e := get[Edited](t, b, Request{Ask: "edit", Splice: ptr(spliceBetween(b.file.Text(), []byte(text)))})
	require.NotEmpty(t, e.Problems)
	require.NotContains(t, fmt.Sprint(e.Problems), "SECRET")
	is, err := os.ReadFile(secret)
	require.NoError(t, err)
	require.Equal(t, "name: SECRET-AIRCRAFT\n", string(is))

	// a link in the place of the draft is replaced, not written through
	require.NoError(t, os.Symlink(secret, filepath.Join(folder, ".mine.yaml.draft")))
	b.Home.flush()
	is, err = os.ReadFile(secret)
	require.NoError(t, err)
	require.Equal(t, "name: SECRET-AIRCRAFT\n", string(is))
}

// lines reads the lines of JSON of one request.
func lines(t *testing.T, s *Server, token string, q Request, until func(Answer) bool) []Answer {
	t.Helper()
	q.V = Version
	body, err := json.Marshal(q)
	require.NoError(t, err)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, "http://"+s.host+"/ask", bytes.NewReader(body))
	require.NoError(t, err)
	for k, v := range map[string]string{"Origin": "http://" + s.host, "Content-Type": "application/json", tokenHeader: token} {
		r.Header.Set(k, v)
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	require.Equal(t, 200, answer.StatusCode)
	var out []Answer
	in := json.NewDecoder(answer.Body)
	for {
		var a Answer
		require.NoError(t, in.Decode(&a))
		out = append(out, a)
		if a.Done || until(a) {
			return out
		}
	}
}

// TestTwoTabs: a change of one tab is told to the other, and one of the file to both.
func TestTwoTabs(t *testing.T) {
	b, folder := openFolder(t)
	s, token := listen(t, b)
	told := make(chan []Answer, 1)
	listens := make(chan struct{})
	go func() {
		first := true
		told <- lines(t, s, token, Request{ID: 1, Ask: "told", Tab: "two"}, func(a Answer) bool {
			if first {
				first = false
				close(listens)
			}
			var body Told
			return json.Unmarshal(a.Body, &body) == nil && body.File == FileOnDisk
		})
	}()
	<-listens
	e := lines(t, s, token, Request{ID: 2, Ask: "edit", Tab: "one", Of: b.hash, Path: "name", Value: ptr("x")}, func(Answer) bool { return false })
	var edited Edited
	require.NoError(t, json.Unmarshal(e[0].Body, &edited))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "mine.yaml"), []byte("name: other\n"), 0o640))
	all := <-told
	at := slices.IndexFunc(all, func(a Answer) bool { return a.Part == "text" }) // the file's state may be told before it
	require.Positive(t, at)
	var body Told
	require.NoError(t, json.Unmarshal(all[at].Body, &body))
	require.Equal(t, edited.Splice, body.Edited.Splice)
	require.Equal(t, edited.Hash, body.Edited.Hash)
	require.Equal(t, "file", all[len(all)-1].Part)
}

// TestCancel: where the page lets go, the last answer comes at once.
func TestCancel(t *testing.T) {
	b := openMemory(t, demoText(t))
	b.Kit.Check = nil // never reached
	started := make(chan struct{})
	b.Kit.Place = nil
	b.Kit.Pack = nil
	asks["wait"] = func(_ *Bench, ctx context.Context, _ Request, _ func(Answer)) (any, error) {
		close(started)
		time.Sleep(300 * time.Millisecond) // what does not look at ctx
		return 1, nil
	}
	defer delete(asks, "wait")
	ctx, end := context.WithCancel(context.Background())
	go func() {
		<-started
		end()
	}()
	var last Answer
	var at time.Time
	b.Ask(ctx, Request{V: Version, ID: 7, Ask: "wait"}, func(a Answer) { last, at = a, time.Now() })
	require.Equal(t, CodeCancelled, last.Error.Code)
	require.Equal(t, 7, last.ID)
	require.Less(t, time.Since(at), 200*time.Millisecond)
}
