package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// Toes says on which side of the member's local z axis a channel's toes point.
type Toes int

// The sides; unstated takes the lesser capacity for either sign of moment about y.
const (
	ToesUnstated Toes = iota
	ToesPlusZ
	ToesMinusZ
)

// Options are the choices that a member's own data do not hold. The zero value is the default of each (see the package
// comment).
type Options struct {
	Kt       float64 // Table 7.3.2; 0 is DefaultKt of the family
	EndsHeld int     // ends of each segment held against lateral rotation (0, 1, 2), for kr
	Toes     Toes
}

// Checker holds a member's checks prepared once for a section, its restraints and effective lengths. Check allocates
// nothing. A Checker works on one diagram at a time: give each worker its own.
type Checker struct {
	Cap    *Capacity
	Member *solver.Member
	opt    Options

	segments []Segment     // for top, then for bottom in compression
	bottom   int           // index of the first segment of the bottom flange
	least    [2]float64    // N·m, by flange: of all segments
	inner    [2]float64    // likewise, without short free segments at the ends
	atEnd    [2][2]float64 // likewise, of these by end
	reach    [2]float64    // m from either end: how far these go
	list     []bracing

	base    Interaction // Mbx and Msy are set per check
	lengthX float64     // m, in-plane length of the interaction
	lengthY float64
	lengthZ float64 // torsional
	// flangeHeld is the distance (m) between restraints of one flange alone, where they raise Ncy; 0: they do not count
	flangeHeld float64
	ncSwayX    float64 // N; infinite where no sway length is given
	ncSwayY    float64
	ncTorsion  float64 // infinite where flexural-torsional buckling is not asked for
	ncLeast    float64
	incident   float64 // N·m, first yield of round bars, whose bending is not covered; NaN for others
	eccentric  eccentric
	section    sectionWeights
	weights    weights
	prepared   prepared
	turned     solver.Diagram // an angle's, about its principal axes

	run run
}

// NewChecker prepares the checks of m. It fails on a member without a section, a section or grade outside the pack, a
// web outside the bending rules, restraints off the member or of no class, and an end that nothing holds.
func (r *Rules) NewChecker(m *solver.Member, opt Options) (*Checker, error) {
	c := &Checker{}
	if m.Section == nil {
		return nil, fmt.Errorf("as4100: %s has no section: it can be analysed, not checked", m.ID)
	}
	capacity, err := r.New(m.Section, m.Grade)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", m.ID, err)
	}
	return c, c.Prepare(capacity, m, opt)
}

// Prepare makes c the checker of m with capacities that may be shared between members of one section and grade. It
// reuses c's storage, and where m asks for what c was prepared for last, as most members of designs that come one after the other do, what
// is there. The errors are those of NewChecker.
func (c *Checker) Prepare(capacity *Capacity, m *solver.Member, opt Options) error {
	if c.prepared.serves(capacity, m, &opt) {
		c.Member = m
		return nil
	}
	c.prepared.good = false
	if err := c.prepare(capacity, m, opt); err != nil {
		return err
	}
	c.prepared.keep(capacity, m, &opt)
	return nil
}

func (c *Checker) prepare(capacity *Capacity, m *solver.Member, opt Options) error {
	if !(m.Length > 0) {
		return fmt.Errorf("as4100: %s has length %g m; a member to be checked needs one", m.ID, m.Length)
	}
	if err := checkRestraints(m); err != nil {
		return err
	}
	if opt.EndsHeld < 0 || opt.EndsHeld > 2 {
		return fmt.Errorf("as4100: %s: %d ends held against lateral rotation; a segment has two", m.ID, opt.EndsHeld)
	}
	if opt.Kt == 0 {
		opt.Kt = capacity.Rules.DefaultKt(m.Section.Family)
	}
	if m.Section.Family == catalog.EA {
		opt.Toes = ToesUnstated // which way the second leg points is not known
	}
	c.Cap, c.Member, c.opt = capacity, m, opt
	c.list = bracings(c.list[:0], m)
	c.compression()
	c.base.Nt = capacity.Tension(opt.Kt, nil)
	if err := c.bending(); err != nil {
		return err
	}
	c.section = c.sectionWeights()
	c.weigh()
	return nil
}

// compression fills the member capacities in compression.
func (c *Checker) compression() {
	m, k := c.Member, c.Cap
	centroid, either, twist := heldLengths(m, c.list)
	c.ncSwayX, c.ncSwayY, c.ncTorsion = math.Inf(1), math.Inf(1), math.Inf(1)
	c.lengthX, c.lengthY, c.lengthZ = m.Length, centroid, twist
	c.base = Interaction{C: k, Msy: k.Msy(), BetaX: -1, BetaY: -1}
	switch e := m.EffectiveX; {
	case e.Length > 0 && e.Sway:
		c.ncSwayX = k.Nc(X, e.Length, nil)
	case e.Length > 0:
		c.lengthX = e.Length
	}
	switch e := m.EffectiveY; {
	case e.Length > 0 && e.Sway:
		c.ncSwayY = k.Nc(Y, e.Length, nil)
	case e.Length > 0:
		c.lengthY = e.Length
	}
	c.base.Ncx, c.base.Ncy = k.Nc(X, c.lengthX, nil), k.Nc(Y, c.lengthY, nil)
	c.flangeHeld = 0
	if m.EffectiveY.Length == 0 && either < centroid-samePlace && k.doubly() {
		if n := k.NcEnforced(either, centroid, nil); n > c.base.Ncy {
			c.flangeHeld, c.base.Ncy = either, n
		}
	}
	if c.torsional() {
		c.ncTorsion = k.NcTorsional(c.lengthX, c.lengthZ, nil)
	}
	c.ncLeast = min(min(c.base.Ncx, c.base.Ncy), min(min(c.ncSwayX, c.ncSwayY), c.ncTorsion))
}

// torsional reports whether flexural-torsional buckling is checked: equal angles always, channels that are braced about
// the minor axis (6.3.3 note).
func (c *Checker) torsional() bool {
	f := c.Cap.Section.Family
	return f == catalog.EA || (f == catalog.PFC && c.lengthY < c.lengthX*(1-1e-9))
}

// bending fills the segments of both flanges.
func (c *Checker) bending() error {
	k := c.Cap
	c.segments, c.incident = c.segments[:0], math.NaN()
	if k.Section.Family == catalog.Rod {
		c.incident = k.Fy * k.Section.Props.Zx
		c.eccentric = eccentric{}
		return nil
	}
	if !checks.Defined(k.Msx) || !checks.Defined(k.Msy()) || !checks.Defined(c.shearX().vv) {
		return fmt.Errorf("as4100: %s: %s in %s: %s; choose another size", c.Member.ID, k.Section.Name, k.Grade.Name, k.Outside[0])
	}
	var err error
	if c.segments, err = k.segments(c.segments, c.Member, c.list, solver.TopFlange, &c.opt); err != nil {
		return err
	}
	c.bottom = len(c.segments)
	if c.segments, err = k.segments(c.segments, c.Member, c.list, solver.BottomFlange, &c.opt); err != nil {
		return err
	}
	c.leastMoments()
	c.eccentric = c.eccentricEnds()
	return nil
}

// shortEnd is the share of a member's length up to which a free segment at its end is bounded by the moments there.
const shortEnd = 1.0 / 8

// leastMoments finds the least member moment capacities of the segments of each flange, alpha_m at its least: of all, of short free
// ones at the ends, and of the others.
func (c *Checker) leastMoments() {
	inf := math.Inf(1)
	none := [2]float64{inf, inf}
	c.least, c.inner, c.atEnd, c.reach = none, none, [2][2]float64{none, none}, [2]float64{}
	for f := range c.least {
		for i := range c.of(f) {
			s := &c.of(f)[i]
			mb := s.Mb * s.leastFactor(c.Cap.Rules)
			c.least[f] = min(c.least[f], mb)
			if l := s.To - s.From; s.Free() && l <= shortEnd*c.Member.Length {
				end := 0
				if s.From > 0 {
					end = 1
				}
				c.reach[end], c.atEnd[end][f] = max(c.reach[end], l+samePlace), min(c.atEnd[end][f], mb)
				continue
			}
			c.inner[f] = min(c.inner[f], mb)
		}
	}
}

// Reach is how far from either end of the member (m) the moments count that BoundNear takes; zero where it takes none.
func (c *Checker) Reach() [2]float64 { return c.reach }

// of lists the segments for compression in flange f (0 top, 1 bottom).
func (c *Checker) of(f int) []Segment {
	if f == 0 {
		return c.segments[:c.bottom]
	}
	return c.segments[c.bottom:]
}

// Segments lists the segments for compression in flange f, for the restraint map. The slice is the checker's own.
func (c *Checker) Segments(f solver.Flange) []Segment {
	if len(c.segments) == 0 {
		return nil
	}
	return c.of(int(f))
}
