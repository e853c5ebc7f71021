package strip

import "math"

// Kind is the kind of a buckling mode.
type Kind string

// The kinds of buckling. A section given by nodes has no folds, so its modes have no kind.
const (
	NoKind       Kind = ""
	Local        Kind = "local"
	Distortional Kind = "distortional"
	Global       Kind = "global"
)

// Shares measures how a mode moves the folds (the middles of the corners).
//
// Fold is the greatest translation of a fold over the greatest translation anywhere: near 0 where plates bend between
// folds that stay (local buckling). Rigid is the share of the folds' motion (sum of squares) that a rigid motion of the
// whole cross-section explains: 1 in global buckling, clearly less where the cross-section is distorted.
type Shares struct {
	Fold, Rigid float64
	valid       bool
}

// Bounds between the kinds. Over the minima of the stock's 30 sizes under every loading Fold is below 0.15 or above 0.7,
// and Rigid is below 0.55 where Fold is large; in global buckling at lengths of members Rigid is above 0.99. So the exact
// bounds decide nothing there.
const (
	localFold   = 0.30
	globalRigid = 0.95
)

// Kind applies the rule: local if the folds hardly move; otherwise global if they move together as a rigid body;
// otherwise distortional.
func (h Shares) Kind() Kind {
	switch {
	case !h.valid:
		return NoKind
	case h.Fold < localFold:
		return Local
	case h.Rigid > globalRigid:
		return Global
	}
	return Distortional
}

// Shares measures mode on the section's folds.
func (s *Section) Shares(mode Mode) Shares {
	if len(s.folds) < 2 || mode == nil {
		return Shares{}
	}
	top := 0.0
	for i := range s.nodes {
		top = max(top, math.Hypot(mode[dofs*i+dofX], mode[dofs*i+dofY]))
	}
	h := Shares{valid: true}
	var cx, cy, mx, my float64
	n := float64(len(s.folds))
	for _, i := range s.folds {
		h.Fold = max(h.Fold, math.Hypot(mode[dofs*i+dofX], mode[dofs*i+dofY])/top)
		cx, cy = cx+s.nodes[i].X/n, cy+s.nodes[i].Y/n
		mx, my = mx+mode[dofs*i+dofX]/n, my+mode[dofs*i+dofY]/n
	}
	// Least squares of a translation and a small turn about the folds' centre.
	var turn, polar, all float64
	for _, i := range s.folds {
		x, y := s.nodes[i].X-cx, s.nodes[i].Y-cy
		u, v := mode[dofs*i+dofX], mode[dofs*i+dofY]
		turn += x*(v-my) - y*(u-mx)
		polar += x*x + y*y
		all += u*u + v*v
	}
	if all > 0 {
		h.Rigid = (n*(mx*mx+my*my) + turn*turn/polar) / all
	}
	return h
}
