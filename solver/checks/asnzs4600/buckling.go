package asnzs4600

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"leanbay/catalog"
	"leanbay/solver/strip"
)

// FiniteStrip is the mark of capacities that rest on the finite strip solution of the section itself.
const FiniteStrip = "finite strip"

// Bend names a sense of bending by what is compressed.
type Bend int

// The senses of bending. Of a channel both flanges are alike; of a zed the top one is the wide one. Right is the
// channel's lips (the zed's wide flange's lip), Left the channel's web.
const (
	Top Bend = iota
	Bottom
	Right
	Left
	numBends
)

// loadings are the finite strip's stresses for each Bend.
var loadings = [numBends]strip.Loading{strip.BendTop, strip.BendBottom, strip.BendRight, strip.BendLeft}

// String says what is compressed.
func (b Bend) String() string { return [...]string{"top flange", "bottom flange", "right", "left"}[b] }

// Buckling holds a section's elastic local and distortional buckling: loads in N, moments in N·m, +Inf where the section
// has none such. It is read-only and may be shared.
type Buckling struct {
	Section  *catalog.Section
	Nol, Nod float64
	Mol, Mod [numBends]float64
	Axial    strip.Critical
	Bending  [numBends]strip.Critical
}

// Outline returns the strips' outline of a lipped channel or zed; the zed's wide flange is on top. The error says which
// families there are.
func Outline(s *catalog.Section) (strip.Outline, error) {
	d := s.Dims
	switch s.Family {
	case catalog.C:
		return strip.LippedC(d.D, d.B, d.L, d.T, d.Ri), nil
	case catalog.Z:
		return strip.LippedZ(d.D, d.B, d.F, d.L, d.T, d.Ri), nil
	}
	return strip.Outline{}, fmt.Errorf("%s is not a cold-formed lipped channel or zed: its buckling curve is not available", s.Name)
}

// Strips cuts s into strips of the design mesh.
func Strips(s *catalog.Section) (*strip.Section, error) {
	o, err := Outline(s)
	if err != nil {
		return nil, err
	}
	sec, err := o.Section(strip.Standard, strip.Steel)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	return sec, nil
}

// Analyse finds the elastic buckling of s by finite strips, in about 40 ms of a core; the loadings run side by side. Keep the
// result: see Stock.
func Analyse(s *catalog.Section) (*Buckling, error) {
	sec, err := Strips(s)
	if err != nil {
		return nil, err
	}
	b := &Buckling{Section: s}
	kinds := append([]strip.Loading{strip.Compression}, loadings[:]...)
	found, errs := make([]strip.Critical, len(kinds)), make([]error, len(kinds))
	mirrored := s.Family == catalog.C // Bottom is then the mirror image of Top
	var wg sync.WaitGroup
	for i, kind := range kinds {
		if !mirrored || kind != loadings[Bottom] {
			wg.Go(func() { found[i], errs[i] = sec.Critical(kind) })
		}
	}
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	if mirrored {
		found[1+Bottom] = found[1+Top]
	}
	l := sec.Line()
	b.Axial = found[0]
	b.Nol, b.Nod = b.Axial.Local.Factor*l.A, b.Axial.Distortional.Factor*l.A
	for i := range loadings {
		z := l.Ix / l.FarY
		if bend := Bend(i); bend == Right || bend == Left {
			z = l.Iy / l.FarX
		}
		c := found[1+i]
		b.Bending[i], b.Mol[i], b.Mod[i] = c, c.Local.Factor*z, c.Distortional.Factor*z
	}
	return b, nil
}

// unbuckled is s as if it had neither local nor distortional buckling: it resists no less than s does.
func unbuckled(s *catalog.Section) *Buckling {
	inf := math.Inf(1)
	b := &Buckling{Section: s, Nol: inf, Nod: inf}
	for i := range b.Mol {
		b.Mol[i], b.Mod[i] = inf, inf
	}
	return b
}

// weaker is the lesser of the two flanges' (or sides') values.
func weaker(m [numBends]float64, a, b Bend) float64 { return math.Min(m[a], m[b]) }

// Stock keeps the buckling of sections by name, so that each is analysed once. It may be used by many goroutines; which
// of them asks first changes nothing.
type Stock struct {
	mu   sync.Mutex
	done map[string]*entry
}

type entry struct {
	once sync.Once
	b    *Buckling
	err  error
}

// NewStock returns an empty stock.
func NewStock() *Stock { return &Stock{done: map[string]*entry{}} }

// Get returns the buckling of s, analysing it at the first call.
func (k *Stock) Get(s *catalog.Section) (*Buckling, error) {
	k.mu.Lock()
	e := k.done[s.Name]
	if e == nil {
		e = &entry{}
		k.done[s.Name] = e
	}
	k.mu.Unlock()
	e.once.Do(func() {
		var of *Buckling
		if of, e.err = remembered(s); e.err == nil {
			own := *of
			own.Section, e.b = s, &own
		}
	})
	return e.b, e.err
}

// contents is what the buckling of a section follows from, and its name, which messages carry.
type contents struct {
	name   string
	family catalog.Family
	dims   catalog.Dims
}

// memory holds every analysis of the process: a command may prepare one shed many times over, under changed briefs.
var memory = struct {
	mu   sync.Mutex
	done map[contents]*entry
}{done: map[contents]*entry{}}

// remembered is Analyse, once for equal sections.
func remembered(s *catalog.Section) (*Buckling, error) {
	key := contents{s.Name, s.Family, s.Dims}
	memory.mu.Lock()
	e := memory.done[key]
	if e == nil {
		e = &entry{}
		memory.done[key] = e
	}
	memory.mu.Unlock()
	e.once.Do(func() { e.b, e.err = Analyse(s) })
	return e.b, e.err
}
