package optimize

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
)

// Share calls f for every index below n, spread over hands that work side by side, each on one index at a time. Of several errors it
// returns that of the lowest index, so that the error does not depend on the number of hands; a panic of f is an error. Once ctx ends
// it starts nothing more and returns the context's error.
func Share[H any](ctx context.Context, hands []H, n int, f func(hand H, i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for _, h := range hands[:min(len(hands), n)] {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				errs[i] = guarded(func() error { return f(h, i) })
			}
		})
	}
	wg.Wait()
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

// guarded turns a panic into an error: a panic on another goroutine than the caller's could not be caught by the caller.
func guarded(f func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("optimize: internal fault of the problem: %v", v)
		}
	}()
	return f()
}
