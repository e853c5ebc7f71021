package joints

import (
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// KneeWall is the least wall of hollow sections at a knee whose detail is not stated (m): what a full-strength end plate
// needs (engineering practice).
const KneeWall = 0.005

// Fit is one rule of geometry between members that meet: a value held against what it may be at most (Ratio above 1: it
// does not fit).
type Fit struct {
	Rule, Text string
	Ratio      float64
}

// sameWidth is how far two outer widths may differ and still be one (m): the mills' tolerance.
const sameWidth = 0.0015

// Fitter judges how members meet, in storage that serves again: an answer is good until the next.
type Fitter struct {
	Words bool // whether the answers have texts
	out   []Fit
}

// Fits judges how members meet (engineering practice): hollow columns and rafters of one outer width, hollow walls at
// an assumed knee, props no wider than the rafter over them. The worst of each rule is given.
func (f *Fitter) Fits(m *shed.Model, d *brief.Details) []Fit {
	f.out = f.out[:0]
	st := &m.Structure
	for _, k := range m.Knees {
		f.knee(st.Members[k[1]].ID, st.Members[k[0]].Section, st.Members[k[1]].Section, d.Eaves == nil)
	}
	for _, h := range m.Heads {
		f.prop(st.Members[h[0]].ID, st.Members[h[0]].Section, st.Members[h[1]].Section)
	}
	return f.out
}

// FitsOf judges pairs of sections, without texts, as a Fitter does their members: a column and a rafter at a knee, a prop and the rafter
// over it.
func FitsOf(knees, heads [][2]*catalog.Section, d *brief.Details) []Fit {
	var f Fitter
	return f.Sections(knees, heads, d)
}

// Sections is FitsOf in storage that serves again.
func (f *Fitter) Sections(knees, heads [][2]*catalog.Section, d *brief.Details) []Fit {
	f.out = f.out[:0]
	for _, k := range knees {
		f.knee("", k[0], k[1], d.Eaves == nil)
	}
	for _, h := range heads {
		f.prop("", h[0], h[1])
	}
	return f.out
}

// keep keeps the worst of each rule, and writes only that one's text.
func (f *Fitter) keep(rule string, ratio float64, text func() string) {
	i := slices.IndexFunc(f.out, func(o Fit) bool { return o.Rule == rule })
	if i < 0 {
		i = len(f.out)
		f.out = append(f.out, Fit{Rule: rule, Ratio: math.Inf(-1)})
	}
	if ratio <= f.out[i].Ratio {
		return
	}
	if f.out[i].Ratio = ratio; f.Words {
		f.out[i].Text = text()
	}
}

// knee compares a column and a rafter that are welded or bolted together at a corner.
func (f *Fitter) knee(id string, col, raf *catalog.Section, assumed bool) {
	if !tube(col) || !tube(raf) {
		return
	}
	gap := math.Abs(outer(col) - outer(raf))
	f.keep("column and rafter of one width", gap/sameWidth, func() string {
		return fmt.Sprintf("%s: column %s and rafter %s differ by %.0f mm in width, at most %.1f mm", id, col.Name, raf.Name, gap*1e3, sameWidth*1e3)
	})
	if t := math.Min(col.Dims.T, raf.Dims.T); assumed {
		f.keep("wall at the knee", KneeWall/t, func() string {
			return fmt.Sprintf("%s: the thinner wall at the knee is %.1f mm, at least %.0f mm where no detail is stated", id, t*1e3, KneeWall*1e3)
		})
	}
}

// prop compares a prop with the rafter that it carries.
func (f *Fitter) prop(id string, prop, raf *catalog.Section) {
	a, b := outer(prop), outer(raf)
	f.keep("prop no wider than the rafter", (a-sameWidth)/b, func() string {
		return fmt.Sprintf("%s: prop %s is %.0f mm wide, rafter %s %.0f mm", id, prop.Name, a*1e3, raf.Name, b*1e3)
	})
}

// outer is the width of a section across the frame's plane.
func outer(s *catalog.Section) float64 {
	if s.Dims.B > 0 {
		return s.Dims.B
	}
	return s.Dims.D
}

func tube(s *catalog.Section) bool {
	return s != nil && (s.Family == catalog.RHS || s.Family == catalog.SHS)
}
