package audit

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// killAt is the variable that makes the test binary write a pack and die: at a move,
// by its number ("1" before the first), whether folders are exchanged or not.
const killAt = "MASKLOFT_TEST_KILL_AT"

func TestMain(m *testing.M) {
	if at := os.Getenv(killAt); at != "" {
		dieWriting(at, os.Args[len(os.Args)-1])
	}
	os.Exit(m.Run())
}

// dieWriting writes a pack of 30 files into dir and kills its own process at the move
// that at names; "time" writes until somebody kills it.
func dieWriting(at, dir string) {
	wanted, _ := strconv.Atoi(strings.TrimSuffix(at, "x"))
	for n := 0; ; n++ {
		moves := 0
		step := func(do func() error) error {
			if moves++; moves == wanted {
				die()
			}
			return do()
		}
		p, err := NewPack(dir)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(3)
		}
		p.disk = disk{
			move: func(from, to string) error { return step(func() error { return os.Rename(from, to) }) },
			exchange: func(a, b string) error {
				if strings.HasSuffix(at, "x") {
					return errNoExchange
				}
				return step(func() error { return exchange(a, b) })
			},
		}
		for i := range 30 {
			if err := p.Add(fmt.Sprintf("cut/%d.svg", i), []byte(fmt.Sprint(n, " ", i))); err != nil {
				os.Exit(3)
			}
		}
		if err := p.Commit(); err != nil {
			os.Exit(3)
		}
		if at != "time" {
			die() // just after the moves
		}
	}
}

func die() {
	self, err := os.FindProcess(os.Getpid())
	if err == nil {
		err = self.Kill()
	}
	if err != nil {
		os.Exit(4)
	}
	select {}
}

// whole reports whether dir holds a pack whose files are those of its list.
func whole(t *testing.T, dir string) {
	t.Helper()
	require.NoError(t, replaceable(dir))
	require.Contains(t, tree(t, dir), ManifestName)
}

// A program that writes a pack over another is killed before each move and after the
// last, and at 100 random moments: there is a whole pack after the next start, and
// nothing is left beside the next pack.
func TestPackKilled(t *testing.T) {
	t.Logf("seed %d", *seed)
	random := rand.New(rand.NewPCG(*seed, 1))
	cases := []string{"1", "2", "1x", "2x", "3x"}
	for range 100 {
		cases = append(cases, "time")
	}
	above := t.TempDir()
	dir := filepath.Join(above, "one")
	require.NoError(t, writePack(t, dir, someFiles))
	for _, at := range cases {
		c := exec.Command(os.Args[0], "-test.run=XXX", dir)
		c.Env = append(os.Environ(), killAt+"="+at)
		require.NoError(t, c.Start())
		if at == "time" {
			time.Sleep(time.Duration(random.IntN(40)) * time.Millisecond)
			require.NoError(t, c.Process.Kill())
		}
		err := c.Wait()
		require.ErrorContains(t, err, "killed", at)
		require.NoError(t, Sweep(dir))
		whole(t, dir)
		require.Equal(t, len(tree(t, dir))+1, len(tree(t, above)), "%s: something is left beside the pack", at)
	}
	require.NoError(t, writePack(t, dir, someFiles))
	require.Equal(t, len(tree(t, dir))+1, len(tree(t, above)), "something is left beside the pack")
}

// What a living program gathers is left alone.
func TestSweepLeavesTheLiving(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "one")
	p, err := NewPack(dir)
	require.NoError(t, err)
	require.NoError(t, p.Add("a", []byte("1")))
	if err := Sweep(dir); err != nil {
		t.Fatal(err)
	}
	require.NoError(t, p.Commit())
	require.Contains(t, tree(t, dir), "a")
}
