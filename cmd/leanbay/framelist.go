package main

import (
	"fmt"
	"strconv"
	"strings"
)

// frameList is a flag of numbers of frames, or none.
type frameList struct{ list *[]int }

func newFrameList(list *[]int, preset ...int) frameList {
	*list = preset
	return frameList{list}
}

// String implements pflag.Value.
func (f frameList) String() string {
	if f.list == nil || len(*f.list) == 0 {
		return "none"
	}
	var words []string
	for _, n := range *f.list {
		words = append(words, strconv.Itoa(n))
	}
	return strings.Join(words, ",")
}

// Set implements pflag.Value.
func (f frameList) Set(text string) error {
	*f.list = nil
	if text == "none" {
		return nil
	}
	for word := range strings.SplitSeq(text, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil || n < 2 || n > mostFrames {
			return fmt.Errorf("%q is not a number of frames from 2 to %d", word, mostFrames)
		}
		*f.list = append(*f.list, n)
	}
	return nil
}

// Type implements pflag.Value.
func (f frameList) Type() string { return "numbers" }

// mostFrames keeps unknowns within the 32-bit indices of the factor, with room.
const mostFrames = 20000
