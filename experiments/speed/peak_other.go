//go:build !amd64

package speed

func spin(rounds int) int { return spinGo(rounds) }

func peakMethod() string { return goMethod }
