package as4100

import "math"

// Nomb is the elastic buckling load (N) of 4.6.2 for second moment i (m⁴) and effective length le (m).
func Nomb(i, le float64) float64 { return math.Pi * math.Pi * E * i / (le * le) }

// Cm is the factor for unequal end moments of 4.4.2.2: 0.6 - 0.4 beta_m, at most 1 (from memory).
func Cm(betaM float64) float64 { return math.Min(1, 0.6-0.4*betaM) }

// DeltaBraced is delta_b of 4.4.2.2 for compression n (N, positive; 1 for tension) and buckling load nomb; infinite at
// and beyond nomb.
func DeltaBraced(cm, n, nomb float64) float64 {
	if n <= 0 {
		return 1
	}
	if n >= nomb {
		return math.Inf(1)
	}
	return math.Max(1, cm/(1-n/nomb))
}

// DeltaSway is delta_s of 4.4.2.3 from the elastic buckling load factor of the storey or frame; infinite at lambdaC <= 1.
func DeltaSway(lambdaC float64) float64 {
	if lambdaC <= 1 {
		return math.Inf(1)
	}
	return 1 / (1 - 1/lambdaC)
}

// AmplificationLimit is the greatest delta for which an amplified first-order analysis may stand (4.4.2.1; from memory);
// beyond it a second-order analysis is required.
const AmplificationLimit = 1.4
