package masks

import (
	"runtime"

	"golang.org/x/sync/errgroup"
)

// SideBySide calls do for 0 to n-1, as many at a time as there are processors, all of
// them whatever fails. Of several errors it returns that of the smallest number, so that
// the same input gives the same error.
func SideBySide(n int, do func(i int) error) error {
	errs := make([]error, n)
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		group.Go(func() error {
			errs[i] = do(i)
			return nil
		})
	}
	_ = group.Wait() // errors are kept in their order
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
