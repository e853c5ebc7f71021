package statics

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"leanbay/experiments/frames"
)

// Rank says how well a target is known; the lower, the better.
type Rank int

// The ranks of targets.
const (
	ClosedForm Rank = iota
	Published
	Independent // the agreement of two independent routines
)

func (r Rank) String() string {
	return [...]string{"closed form", "published", "independent routine"}[r]
}

// Tolerances, relative: linear analysis has no error but round-off and the stretching that formulas leave out; second
// order and buckling are held to what issue and commentaries ask of a rigorous analysis, and published figures to their
// digits.
const (
	linearTol = 1e-3
	secondTol = 5e-3
)

// Figure is one number (or yes or no) of a case, with what it should be.
type Figure struct {
	What   string // "a: node 2 uz"
	Unit   string // "" for yes or no, which are 1 and 0
	Want   float64
	Tol    float64 // relative; 0 must be equal
	Small  float64 // size under which differences do not count, in Unit; for targets of 0
	Rank   Rank
	Source string
	get    func(a *frames.Answer) (float64, error)
}

// Row is a figure with what the solver got.
type Row struct {
	Case string
	Figure
	Got        float64
	Difference float64 // relative, or absolute for a target of 0
	Agrees     bool
	Problem    string // why there is no figure
}

// judge fills a row from the answer.
func (f *Figure) judge(name string, a *frames.Answer) Row {
	r := Row{Case: name, Figure: *f}
	got, err := f.get(a)
	if err != nil {
		r.Problem = err.Error()
		return r
	}
	r.Got = got
	diff := math.Abs(got - f.Want)
	r.Difference = diff
	if f.Want != 0 {
		r.Difference = (got - f.Want) / f.Want
	}
	r.Agrees = diff <= f.Tol*math.Abs(f.Want) || diff <= f.Small
	return r
}

// source is where expected values come from: figures are made by it, so that each carries rank and source.
type source struct {
	rank Rank
	tol  float64
	text string
}

func closed(text string) source      { return source{ClosedForm, linearTol, text} }
func stability(text string) source   { return source{ClosedForm, secondTol, text} }
func published(text string) source   { return source{Published, secondTol, text} }
func independent(tol float64) source { return source{Independent, tol, denseSource} }

const denseSource = "dense routine of this package: Hermite elements, 16 a member, Newton on axial forces, sets by enumeration"

func (s source) figure(what, unit string, want float64, get func(a *frames.Answer) (float64, error)) Figure {
	return Figure{What: what, Unit: unit, Want: want, Tol: s.tol, Rank: s.rank, Source: s.text, get: get}
}

// find returns the answer to a load case that must be stable.
func find(a *frames.Answer, id string) (*frames.CaseAnswer, error) {
	for i := range a.Cases {
		if c := &a.Cases[i]; c.ID == id {
			if !c.Stable {
				return c, fmt.Errorf("case %s is reported unstable", id)
			}
			return c, nil
		}
	}
	return nil, fmt.Errorf("no case %s", id)
}

var dofs = []string{"ux", "uy", "uz", "rx", "ry", "rz"}
var reactions = []string{"fx", "fy", "fz", "mx", "my", "mz"}
var components = []string{"N", "Vy", "Vz", "T", "My", "Mz"}

// disp is the displacement of a node.
func (s source) disp(lc string, n int, dof string, want float64) Figure {
	k := slices.Index(dofs, dof)
	unit := "m"
	if k >= 3 {
		unit = "rad"
	}
	return s.figure(fmt.Sprintf("%s: node %d %s", lc, n, dof), unit, want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		return c.Displacements[strconv.Itoa(n)][k], nil
	})
}

// react is what the support of a node exerts.
func (s source) react(lc string, n int, comp string, want float64) Figure {
	k := slices.Index(reactions, comp)
	unit := "N"
	if k >= 3 {
		unit = "N·m"
	}
	return s.figure(fmt.Sprintf("%s: reaction %d %s", lc, n, comp), unit, want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		v, ok := c.Reactions[strconv.Itoa(n)]
		if !ok {
			return 0, fmt.Errorf("no reaction at node %d", n)
		}
		return v[k], nil
	})
}

// end is a force that a node exerts on a member's end i or j.
func (s source) end(lc, m, end, comp string, want float64) Figure {
	k := slices.Index(components, comp)
	unit := "N"
	if k >= 3 {
		unit = "N·m"
	}
	return s.figure(fmt.Sprintf("%s: %s/%s %s", lc, m, end, comp), unit, want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		v, ok := c.EndForces[m]
		if !ok {
			return 0, fmt.Errorf("no member %s", m)
		}
		if end == "i" {
			return v.I[k], nil
		}
		return v.J[k], nil
	})
}

// value picks a quantity of a diagram point.
func value(p *frames.DiagramPoint, what string) float64 {
	return map[string]float64{"N": p.N, "Vy": p.Vy, "Vz": p.Vz, "T": p.T, "My": p.My, "Mz": p.Mz, "uy": p.Uy, "uz": p.Uz}[what]
}

func unitOf(what string) string {
	switch what {
	case "N", "Vy", "Vz":
		return "N"
	case "uy", "uz":
		return "m"
	}
	return "N·m"
}

// peak is the value along a member that is greatest in magnitude, with its sign.
func (s source) peak(lc, m, what string, want float64) Figure {
	return s.figure(fmt.Sprintf("%s: %s greatest %s", lc, m, what), unitOf(what), want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		most := 0.0
		for i := range c.Diagrams[m] {
			if v := value(&c.Diagrams[m][i], what); math.Abs(v) > math.Abs(most) {
				most = v
			}
		}
		return most, nil
	})
}

// halfway is the value in the middle of a member.
func (s source) halfway(lc, m, what string, want float64) Figure {
	return s.figure(fmt.Sprintf("%s: %s middle %s", lc, m, what), unitOf(what), want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		ps := c.Diagrams[m]
		if len(ps) == 0 {
			return 0, fmt.Errorf("no diagram of %s", m)
		}
		mid := ps[len(ps)-1].X / 2
		best := 0
		for i := range ps {
			if math.Abs(ps[i].X-mid) < math.Abs(ps[best].X-mid) {
				best = i
			}
		}
		return value(&ps[best], what), nil
	})
}

// factor is a buckling load factor, 0 the lowest.
func (s source) factor(lc string, mode int, want float64) Figure {
	return s.figure(fmt.Sprintf("%s: load factor %d", lc, mode+1), "-", want, func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		if mode >= len(c.Factors) {
			return 0, fmt.Errorf("only %d factors", len(c.Factors))
		}
		return c.Factors[mode], nil
	})
}

// factors is how many load factors there are.
func (s source) factors(lc string, want int) Figure {
	f := s.figure(lc+": number of load factors", "-", float64(want), func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		return float64(len(c.Factors)), nil
	})
	f.Tol = 0
	return f
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// stands is whether a case is reported stable.
func (s source) stands(lc string, want bool) Figure {
	f := s.figure(lc+": stands", "", yes(want), func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if c == nil {
			return 0, err
		}
		return yes(c.Stable), nil
	})
	f.Tol = 0
	return f
}

// moves is whether some mechanism of the case moves a node along a freedom.
func (s source) moves(lc string, n int, dof string, want bool) Figure {
	f := s.figure(fmt.Sprintf("%s: node %d moves along %s", lc, n, dof), "", yes(want), func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if c == nil {
			return 0, err
		}
		for _, m := range c.Mechanisms {
			for _, v := range m.Moving {
				if v.Node == n && v.DOF == dof && math.Abs(v.Amount) > 1e-3 {
					return 1, nil
				}
			}
		}
		return 0, nil
	})
	f.Tol = 0
	return f
}

// slack is whether a one-way member is slack.
func (s source) slack(lc, m string, want bool) Figure {
	f := s.figure(fmt.Sprintf("%s: %s slack", lc, m), "", yes(want), func(a *frames.Answer) (float64, error) {
		c, err := find(a, lc)
		if err != nil {
			return 0, err
		}
		state, ok := c.States[m]
		if !ok {
			return 0, fmt.Errorf("no state of %s", m)
		}
		return yes(state == "slack"), nil
	})
	f.Tol = 0
	return f
}

// within a size that does not matter: for targets of 0.
func (f Figure) upTo(small float64) Figure { f.Small = small; return f }
