package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Lengths are effective lengths (m) for flexure about x, flexure about y, and twist; 0 means fully held.
type Lengths struct{ X, Y, Z float64 }

// polar2 is ro1² = rx² + ry² + x0² + y0² (m²).
func polar2(p *catalog.Properties) float64 {
	return (p.Ix+p.Iy)/p.A + p.X0*p.X0 + p.Y0*p.Y0
}

// euler is pi²EI/(A·l²), +Inf for no length (Pa).
func (c *Code) euler(i, a, l float64) float64 {
	if l <= 0 {
		return math.Inf(1)
	}
	return math.Pi * math.Pi * c.at(ModulusE) * i / (a * l * l)
}

// torsional is foz, the stress of torsional buckling (Pa).
func (c *Code) torsional(p *catalog.Properties, l float64) float64 {
	if l <= 0 {
		return math.Inf(1)
	}
	return (c.at(ModulusG)*p.J + math.Pi*math.Pi*c.at(ModulusE)*p.Iw/(l*l)) / (p.A * polar2(p))
}

// GlobalColumn is Noc (N), the least of flexural, torsional and flexural-torsional buckling, 3.4.2 and 3.4.3. A
// channel's flexure about x couples with twist. A zed is taken as point-symmetric: its lateral flexure between restraints
// is about its minor principal axis, its flexure in the plane of the web about x, since restraints keep it in that plane.
func (c *Code) GlobalColumn(s *catalog.Section, l Lengths, w *checks.Working) float64 {
	p := &s.Props
	fx, foz := c.euler(p.Ix, p.A, l.X), c.torsional(p, l.Z)
	iy := p.Iy
	if s.Family == catalog.Z {
		iy = p.Imin
	}
	fy := c.euler(iy, p.A, l.Y)
	ft := foz
	if s.Family == catalog.C {
		ft = coupled(fx, foz, 1-p.X0*p.X0/polar2(p))
	}
	noc := p.A * min(fx, fy, ft)
	if w != nil {
		w.Add(c.step(ModulusE, "fox, foy", "pi^2 E/(Le/r)^2", fmt.Sprintf("Lex %.4g m, Ley %.4g m: %s, %s MPa", l.X, l.Y, figure(checks.MPa(fx)), figure(checks.MPa(fy))), math.NaN(), ""))
		w.Add(c.step(ModulusG, "foz", "(G J + pi^2 E Iw/Lez^2)/(A ro1^2)", fmt.Sprintf("Lez %.4g m", l.Z), checks.MPa(foz), "MPa"))
		w.Add(c.step(ModulusE, "Noc", "A min(fox, foy, foxz)", fmt.Sprintf("%s x min(%s, %s, %s)", figure(checks.MM2(p.A)), figure(checks.MPa(fx)), figure(checks.MPa(fy)), figure(checks.MPa(ft))), checks.KN(noc), "kN"))
	}
	return noc
}

// coupled is the lower root of flexure coupled with twist: [(fx + fz) - sqrt((fx + fz)² - 4·beta·fx·fz)]/(2·beta).
func coupled(fx, fz, beta float64) float64 {
	if math.IsInf(fx, 1) {
		return fz
	}
	if math.IsInf(fz, 1) {
		return fx
	}
	s := fx + fz
	return (s - math.Sqrt(math.Max(0, s*s-4*beta*fx*fz))) / (2 * beta)
}

// LateralMoment is Mo (N·m) for bending about x, 3.3.3.2, with lateral length l.Y, twist length l.Z and moment factor
// cb: a channel Cb A ro1 sqrt(foy foz); a zed Cb pi² E d Iyc/(2 Ley²), Iyc half of Iy. +Inf where the segment is held.
func (c *Code) LateralMoment(s *catalog.Section, l Lengths, cb float64, w *checks.Working) float64 {
	if l.Y <= 0 || l.Z <= 0 {
		return math.Inf(1)
	}
	p := &s.Props
	if s.Family == catalog.Z {
		mo := cb * math.Pi * math.Pi * c.at(ModulusE) * s.Dims.D * (p.Iy / 2) / (2 * l.Y * l.Y)
		if w != nil {
			w.Add(checks.Step{Clause: "AS/NZS 4600 3.3.3.2", Symbol: "Mo", Formula: "Cb pi^2 E d Iyc/(2 Ley^2)", Mark: checks.MarkMemory, Unit: "kN·m", Value: checks.KNm(mo),
				Numbers: fmt.Sprintf("Cb %s, d %s, Iyc %s mm4, Ley %.4g m", figure(cb), figure(checks.MM(s.Dims.D)), figure(checks.MM4(p.Iy/2)), l.Y)})
		}
		return mo
	}
	foy, foz := c.euler(p.Iy, p.A, l.Y), c.torsional(p, l.Z)
	mo := cb * p.A * math.Sqrt(polar2(p)*foy*foz)
	if w != nil {
		w.Add(checks.Step{Clause: "AS/NZS 4600 3.3.3.2", Symbol: "Mo", Formula: "Cb A ro1 sqrt(foy foz)", Mark: checks.MarkMemory, Unit: "kN·m", Value: checks.KNm(mo),
			Numbers: fmt.Sprintf("%s x %s x %s sqrt(%s x %s)", figure(cb), figure(checks.MM2(p.A)), figure(checks.MM(math.Sqrt(polar2(p)))), figure(checks.MPa(foy)), figure(checks.MPa(foz)))})
	}
	return mo
}

// MinorMoment is Mo (N·m) for bending of a channel about y, 3.3.3.2: Cs A fox [beta_y/2 + Cs sqrt((beta_y/2)² + ro1²
// foz/fox)]/Cm, with Cs +1 where the web (the shear centre's side) is compressed and Cm 1; +Inf for zeds, which are taken
// as held from going sideways, and where the segment is held.
func (c *Code) MinorMoment(s *catalog.Section, sense Bend, l Lengths) float64 {
	if s.Family != catalog.C || l.X <= 0 || l.Z <= 0 {
		return math.Inf(1)
	}
	p := &s.Props
	fox, foz := c.euler(p.Ix, p.A, l.X), c.torsional(p, l.Z)
	j := p.BetaY / 2 // with the web at -x, as the catalogue has it, and the shear centre beyond it
	cs := 1.0
	if sense == Right {
		cs = -1
	}
	return cs * p.A * fox * (j + cs*math.Sqrt(j*j+polar2(p)*foz/fox))
}

// MomentFactor is Cb of 3.3.3.2 from the greatest moment of a segment and those at its quarter points (any sign, N·m).
func MomentFactor(most, q1, q2, q3 float64) float64 {
	most = math.Abs(most)
	if most == 0 {
		return 1
	}
	return 12.5 * most / (2.5*most + 3*math.Abs(q1) + 4*math.Abs(q2) + 3*math.Abs(q3))
}
