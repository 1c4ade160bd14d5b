package masks

import (
	"runtime"

	"golang.org/x/sync/errgroup"
)

// SideBySide calls do for 0 to n-1, as many at a time as there are processors, all of
// them whatever fails. Of several errors it returns that of the smallest number, so that
// the same input gives the same error; a panic is met by the caller, as if it had called
// do itself.
func SideBySide(n int, do func(i int) error) error {
	errs := make([]error, n)
	panics := make([]any, n)
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		group.Go(func() error {
			defer func() { panics[i] = recover() }()
			errs[i] = do(i)
			return nil
		})
	}
	_ = group.Wait() // errors are kept in their order
	for i, err := range errs {
		if panics[i] != nil {
			panic(panics[i])
		}
		if err != nil {
			return err
		}
	}
	return nil
}
