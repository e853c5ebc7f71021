package catalog

import (
	"fmt"
	"math"
)

// fault is a dimension that cannot be, by the column that holds it.
type fault struct {
	column string
	msg    string
}

// column is a dimension of the lists: its name in files, where it goes, and which families have it.
type column struct {
	name  string
	field func(*Dims) *float64
	needs []Family // must be given, above zero
	may   []Family // may be left out
}

var columns = []column{
	{"d_mm", func(d *Dims) *float64 { return &d.D }, families, nil},
	{"b_mm", func(d *Dims) *float64 { return &d.B }, []Family{RHS, UB, PFC, C, Z}, []Family{SHS}},
	{"f_mm", func(d *Dims) *float64 { return &d.F }, []Family{Z}, nil},
	{"lip_mm", func(d *Dims) *float64 { return &d.L }, []Family{C, Z}, nil},
	{"t_mm", func(d *Dims) *float64 { return &d.T }, []Family{RHS, SHS, CHS, EA, C, Z}, nil},
	{"tf_mm", func(d *Dims) *float64 { return &d.Tf }, []Family{UB, PFC}, nil},
	{"tw_mm", func(d *Dims) *float64 { return &d.Tw }, []Family{UB, PFC}, nil},
	{"ro_mm", func(d *Dims) *float64 { return &d.Ro }, nil, []Family{RHS, SHS}},
	{"ri_mm", func(d *Dims) *float64 { return &d.Ri }, []Family{C, Z}, []Family{RHS, SHS}},
	{"r1_mm", func(d *Dims) *float64 { return &d.R1 }, nil, []Family{UB, PFC, EA}},
	{"r2_mm", func(d *Dims) *float64 { return &d.R2 }, nil, []Family{EA}},
	{"pitch_mm", func(d *Dims) *float64 { return &d.P }, []Family{Rod}, nil},
}

// complete fills in the dimensions that follow from others.
func (d *Dims) complete(f Family) {
	switch f {
	case RHS, SHS:
		if f == SHS && d.B == 0 {
			d.B = d.D
		}
		if d.Ro == 0 { // nominal corner of AS/NZS 1163 tables
			d.Ro = 2.5 * d.T
			if d.T <= mm(3) {
				d.Ro = 2 * d.T
			}
		}
		if d.Ri == 0 {
			d.Ri = max(0, d.Ro-d.T)
		}
	case C, Z:
		d.Ro = d.Ri + d.T
	}
}

// check lists what makes complete dimensions impossible as an outline of the family.
func (d Dims) check(f Family) []fault {
	var fs []fault
	need := func(ok bool, col, format string, mms ...float64) {
		if !ok {
			args := make([]any, len(mms))
			for i, v := range mms {
				args[i] = math.Round(v*1e6) / 1e3 // mm, to the micrometre
			}
			fs = append(fs, fault{col, fmt.Sprintf(format, args...)})
		}
	}
	switch f {
	case RHS, SHS:
		d.checkBox(f, need)
	case CHS:
		need(2*d.T < d.D, "t_mm", "wall %g mm fills the diameter %g mm", d.T, d.D)
	case UB:
		need(2*(d.Tf+d.R1) < d.D, "d_mm", "depth %g mm leaves no web between flanges %g mm and root radii %g mm", d.D, d.Tf, d.R1)
		need(d.Tw+2*d.R1 < d.B, "b_mm", "flange width %g mm leaves no outstand beside web %g mm and root radii %g mm", d.B, d.Tw, d.R1)
	case PFC:
		need(2*(d.Tf+d.R1) < d.D, "d_mm", "depth %g mm leaves no web between flanges %g mm and root radii %g mm", d.D, d.Tf, d.R1)
		need(d.Tw+d.R1 < d.B, "b_mm", "flange width %g mm leaves no outstand beside web %g mm and root radius %g mm", d.B, d.Tw, d.R1)
	case EA:
		need(d.T+d.R1+d.toe() < d.D, "d_mm", "leg %g mm is too short for thickness %g mm with root radius %g mm and toe radius %g mm", d.D, d.T, d.R1, d.toe())
	case Rod:
		need(1.2269*d.P < d.D, "pitch_mm", "pitch %g mm leaves no core in diameter %g mm", d.P, d.D)
	case C, Z:
		d.checkLipped(f, need)
	}
	return fs
}

func (d Dims) checkBox(f Family, need func(bool, string, string, ...float64)) {
	side := min(d.D, d.B)
	need(d.D >= d.B, "d_mm", "depth %g mm is less than width %g mm: x is the major axis, so give the greater side as d_mm", d.D, d.B)
	need(f != SHS || d.B == d.D, "b_mm", "width %g mm differs from depth %g mm: a square section has one size; use family RHS", d.B, d.D)
	need(2*d.T < side, "t_mm", "walls %g mm fill the side %g mm", d.T, side)
	if 2*d.T >= side {
		return // the radii follow from t: more messages would say the same
	}
	need(2*d.Ro <= side, "ro_mm", "outer radius %g mm is more than half the side %g mm", d.Ro, side)
	need(d.Ri <= d.Ro, "ri_mm", "inner radius %g mm exceeds the outer radius %g mm", d.Ri, d.Ro)
	need(2*d.Ri <= side-2*d.T+1e-12, "ri_mm", "inner radius %g mm is more than half the clear side %g mm", d.Ri, side-2*d.T)
	// the inner corner must stay inside the outer arc on the diagonal
	gap := d.Ro - d.T - d.Ri
	need(gap <= 0 || gap*1.41421356+d.Ri < d.Ro, "ri_mm", "inner radius %g mm cuts through the outer corner of radius %g mm", d.Ri, d.Ro)
}

func (d Dims) checkLipped(f Family, need func(bool, string, string, ...float64)) {
	need(d.L >= d.Ro, "lip_mm", "lip %g mm is shorter than the bend's outer radius %g mm", d.L, d.Ro)
	need(d.B >= 2*d.Ro, "b_mm", "flange %g mm is narrower than two bends of outer radius %g mm", d.B, d.Ro)
	need(d.D >= 2*d.Ro, "d_mm", "depth %g mm is less than two bends of outer radius %g mm", d.D, d.Ro)
	need(f == C || d.F >= 2*d.Ro, "f_mm", "narrow flange %g mm is narrower than two bends of outer radius %g mm", d.F, d.Ro)
	need(f == C || d.F <= d.B, "f_mm", "narrow flange %g mm is wider than the wide one, %g mm", d.F, d.B)
	need(2*d.L < d.D, "lip_mm", "lips %g mm overlap in depth %g mm", d.L, d.D)
}
