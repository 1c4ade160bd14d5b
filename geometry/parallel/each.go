// Package parallel is the one door to working on several processors.
package parallel

import (
	"context"
	"runtime"

	"golang.org/x/sync/errgroup"
)

type oneByOne struct{}

// OneByOne returns a context under which [Each] calls one after another: for work that
// itself runs beside others, as many as there are processors.
func OneByOne(ctx context.Context) context.Context { return context.WithValue(ctx, oneByOne{}, true) }

// Each calls do for 0 to n-1, as many at a time as there are processors. One that fails
// does not keep the others from being done; of several errors that of the smallest
// number is returned, so that the same input gives the same error; a panic is met by the
// caller, as if it had called do itself. Once ctx is done no
// further call begins, and its error is returned.
func Each(ctx context.Context, n int, do func(i int) error) error {
	errs := make([]error, n)
	panics := make([]any, n)
	var group errgroup.Group
	most := runtime.GOMAXPROCS(0)
	if ctx.Value(oneByOne{}) != nil {
		most = 1
	}
	group.SetLimit(most)
	for i := range n {
		Turn()
		if ctx.Err() != nil {
			break
		}
		group.Go(func() error {
			defer func() { panics[i] = recover() }()
			Turn()
			if ctx.Err() == nil {
				errs[i] = do(i)
			}
			return nil
		})
	}
	_ = group.Wait() // errors are kept in their order
	for _, p := range panics {
		if p != nil {
			panic(p)
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
