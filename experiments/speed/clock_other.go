//go:build !linux

package speed

import "time"

const clockNote = "elapsed time"

var began = time.Now()

func now() time.Duration { return time.Since(began) }
