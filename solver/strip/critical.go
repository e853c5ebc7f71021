package strip

import "math"

// Rule says how a critical stress was found.
type Rule string

// The rules, in the order in which they are tried.
const (
	// Distinct: a minimum of the signature curve of that kind.
	Distinct Rule = "minimum of the curve"
	// HeldFolds: the curve has no minimum of local kind; the least factor with the folds held against translation.
	HeldFolds Rule = "least with corners held"
	// AtDistortionalWave: the curve has no minimum of distortional kind; the lowest mode of that kind in the full
	// solution at the half-wavelength where pure distortion is least.
	AtDistortionalWave Rule = "lowest distortional mode at the half-wavelength of pure distortion"
	// PureDistortion: no mode of distortional kind is among the lowest there; the factor of pure distortion itself.
	PureDistortion Rule = "pure distortion"
	// None: no such buckling exists under this stress (Factor is +Inf).
	None Rule = "none"
)

// Found is a critical factor and the rule that gave it.
type Found struct {
	Minimum
	Rule Rule
}

// Critical holds the local and distortional buckling of a section under one loading. Global buckling depends on the
// member's length and restraints and is not here.
type Critical struct {
	Loading             Loading
	Local, Distortional Found
}

// Scan points and higher modes of Critical. Thirty-eight points over the span of lengths are a ratio of about 1.16 apart, where
// neighbouring minima of sections lie at ratios of 2 and more.
const (
	scanPoints  = 38
	higherModes = 8
)

// Critical finds the least local and distortional factors (Pa at the most stressed fibre, see Stress) of a section made
// from an outline. It returns an error only if the outline cannot be cut again.
func (s *Section) Critical(kind Loading) (Critical, error) {
	out := Critical{Loading: kind}
	from, to := s.Span()
	stress := s.Stress(kind)
	minima := s.Signature(stress, Lengths(from, to, scanPoints)).Minima()
	out.Local, out.Distortional = lowest(minima, Local), lowest(minima, Distortional)
	var err error
	if out.Local.Rule == None {
		if out.Local, err = s.heldLocal(stress, from, to); err != nil {
			return out, err
		}
	}
	if out.Distortional.Rule == None {
		out.Distortional, err = s.hiddenDistortion(kind, stress, from, to)
	}
	return out, err
}

// lowest picks the lowest minimum of a kind.
func lowest(minima []Minimum, kind Kind) Found {
	f := Found{Minimum: Minimum{Factor: math.Inf(1), Kind: kind}, Rule: None}
	for _, m := range minima {
		if m.Kind == kind && m.Factor < f.Factor {
			f = Found{Minimum: m, Rule: Distinct}
		}
	}
	return f
}

// heldLocal is the least factor with the folds held against translation.
func (s *Section) heldLocal(stress []float64, from, to float64) (Found, error) {
	nodes := append([]Node(nil), s.nodes...)
	for _, i := range s.folds {
		nodes[i].Held[dofX], nodes[i].Held[dofY] = true, true
	}
	held, err := New(nodes, s.strips, s.mat)
	if err != nil {
		return Found{}, err
	}
	held.folds, held.outline = s.folds, s.outline
	f := lowest(held.Signature(stress, Lengths(from/2, to, scanPoints+4)).Minima(), Local)
	if f.Rule == Distinct {
		f.Rule = HeldFolds
	}
	return f, nil
}

// hiddenDistortion reads the full solution at the half-wavelength of least pure distortion.
func (s *Section) hiddenDistortion(kind Loading, stress []float64, from, to float64) (Found, error) {
	none := Found{Minimum: Minimum{Factor: math.Inf(1), Kind: Distortional}, Rule: None}
	fr, err := newFrame(s.outline, s.mat)
	if err != nil || fr == nil {
		return none, err
	}
	wave, pure, ok := fr.least(kind, from, to)
	if !ok {
		return none, nil
	}
	factors, modes := s.Solver(stress).Modes(wave, higherModes)
	for i, f := range factors {
		if sh := s.Shares(modes[i]); sh.Kind() == Distortional {
			return Found{Minimum{HalfWave: wave, Factor: f, Kind: Distortional, Shares: sh, Mode: modes[i]}, AtDistortionalWave}, nil
		}
	}
	return Found{Minimum{HalfWave: wave, Factor: pure, Kind: Distortional}, PureDistortion}, nil
}
