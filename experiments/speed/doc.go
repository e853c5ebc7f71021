// Package speed measures where the time of an evaluation goes: phase by phase on the example briefs and on generated sheds of
// any length, against the measured peak of the core.
//
// In: examples, numbers of frames. Out: rows of times, counts and bytes, and matrices as files. It prints nothing. Times are
// the shortest of several, since other work on the machine can only lengthen them.
package speed
