package speed

import "golang.org/x/sys/cpu"

//go:noescape
func peakAVX(rounds int, one *float64)

// spin runs so many rounds of multiplications and additions in registers, and returns the operations of one round.
func spin(rounds int) int {
	if !cpu.X86.HasAVX {
		return spinGo(rounds)
	}
	one := 1.0
	peakAVX(rounds, &one)
	return 112
}

// peakMethod says how the peak is measured.
func peakMethod() string {
	if !cpu.X86.HasAVX {
		return goMethod
	}
	return "vector multiplications and additions of four doubles in registers, fourteen independent chains, not fused (as in the factor's kernels, so that all processors have the same bits)"
}
