package speed

import (
	"time"

	"golang.org/x/sys/unix"
)

// clockNote says what the times are.
const clockNote = "processor time of the thread that computes, which other work on the machine does not lengthen much"

// now is the processor time of this thread; the caller has locked its goroutine to it.
func now() time.Duration {
	var t unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &t); err != nil {
		panic("speed: the thread's clock cannot be read: " + err.Error())
	}
	return time.Duration(t.Nano())
}
