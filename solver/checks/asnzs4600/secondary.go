package asnzs4600

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"sync"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Need is what a secondary member must do, as plain numbers: the key of the table of lightest sections. Pressures are in
// Pa on the sheeting, design values of the brief's combinations, without the member's own weight.
type Need struct {
	Role       string  // "purlin", "girt", "joist", "jamb"
	Span       float64 // m
	Spans      int     // equal spans; 0 is 1
	Continuous bool    // lapped or continuous over its spans; else each by itself
	Lap        float64 // m, whole length of the lap at each interior support
	Spacing    float64 // m, width of sheeting that it carries
	Bridging   int     // rows in each span
	Bearing    float64 // m, bearing length where it sits on its flange; 0: bolted to cleats by its web
	SheetHolds bool    // the brief says that sheeting holds the outer flange
	Slope      float64 // rad between gravity and the plane of the web: roof pitch; pi/2 for girts; 0 for joists

	Inward, Outward float64 // Pa, strength: greatest inwards, greatest outwards (both positive; 0 for none)
	EdgeInward      float64 // Pa, the same within Edge of the run's start (local pressure); 0: as elsewhere
	EdgeOutward     float64
	Edge            float64 // m
	Along           float64 // Pa, strength, in the sheeting's plane square to the member
	OwnMost         float64 // factor on own weight with inward load; 0 is 1.2
	OwnLeast        float64 // with outward load; 0 is 0.9
	Strut           float64 // N, greatest compression, acting with either pressure
	Tie             float64 // N, greatest tension

	ServiceIn, ServiceOut float64 // Pa, serviceability, without own weight
	ServiceOwn            float64 // factor on own weight in the service cases
	Deflect               float64 // span/Deflect is the limit; 0: none
}

// String says what loads the need carries, in the trade's units.
func (n Need) String() string {
	k := checks.KN
	return fmt.Sprintf("%.3g m wide; inwards %.3g kPa (edge %.3g), outwards %.3g kPa (edge %.3g, within %.3g m of the start), along the sheeting %.3g kPa, axial -%.3g/+%.3g kN; service %.3g and -%.3g kPa",
		n.Spacing, k(n.Inward), k(n.EdgeInward), k(n.Outward), k(n.EdgeOutward), n.Edge, k(n.Along), k(n.Strut), k(n.Tie), k(n.ServiceIn), k(n.ServiceOut))
}

// factorOr is f, or the default where f is zero.
func factorOr(f, otherwise float64) float64 {
	if f == 0 {
		return otherwise
	}
	return f
}

// Run turns the need into a run: one case for each direction of load and sign of axial force, and the service cases.
func (n Need) Run() (*Run, error) {
	for _, v := range []float64{n.Span, n.Spacing} {
		if !(v > 0) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("%s: span %g m and spacing %g m must be positive", n.Role, n.Span, n.Spacing)
		}
	}
	if n.Inward < 0 || n.Outward < 0 || n.Strut < 0 || n.Tie < 0 || n.Bridging < 0 || n.Spans < 0 || n.Lap < 0 {
		return nil, fmt.Errorf("%s: pressures, forces, rows, spans and laps are magnitudes: none may be negative", n.Role)
	}
	r := &Run{Role: n.Role, Simple: !n.Continuous, Lap: n.Lap, Bridging: n.Bridging, Bearing: n.Bearing, SheetHolds: n.SheetHolds}
	for range max(n.Spans, 1) {
		r.Spans = append(r.Spans, n.Span)
	}
	for _, axial := range n.axials() {
		r.Cases = append(r.Cases,
			n.strength("inward", 1, n.Inward, n.EdgeInward, factorOr(n.OwnMost, 1.2), axial),
			n.strength("outward", -1, n.Outward, n.EdgeOutward, factorOr(n.OwnLeast, 0.9), axial))
	}
	if n.Deflect > 0 {
		for _, p := range []float64{n.ServiceIn, -n.ServiceOut} {
			c := n.strength("service", 1, p, 0, n.ServiceOwn, 0)
			c.Service, c.Deflect = true, n.Deflect
			r.Cases = append(r.Cases, c)
		}
	}
	return r, nil
}

// axials lists the axial forces of the strength cases.
func (n Need) axials() []float64 {
	out := []float64{0}
	if n.Strut > 0 {
		out = append(out, -n.Strut)
	}
	if n.Tie > 0 {
		out = append(out, n.Tie)
	}
	return out
}

// strength makes one case: pressure p times sign, edge pressure within the edge.
func (n Need) strength(name string, sign, p, edge, own, axial float64) RunCase {
	total := n.Span * float64(max(n.Spans, 1))
	q := sign * p * n.Spacing
	c := RunCase{Name: name, Along: n.Along * n.Spacing, OwnIn: own * math.Cos(n.Slope), OwnAlong: own * math.Sin(n.Slope), Axial: axial,
		Loads: []LineLoad{{0, total, q}}}
	if edge > p && n.Edge > 0 {
		c.Loads = append(c.Loads, LineLoad{0, min(n.Edge, total), sign * (edge - p) * n.Spacing})
	}
	switch {
	case axial < 0:
		c.Name += ", strut"
	case axial > 0:
		c.Name += ", tie"
	}
	return c
}

// ErrNonePasses is wrapped by the error of Lightest where every section of the list fails.
var ErrNonePasses = errors.New("no section of the list passes")

// Table holds the lightest passing section by need. It is built as it is asked: the answer is a pure function of the need
// and the list, so that neither the order nor the number of goroutines that ask changes it.
type Table struct {
	code    *Code
	stock   *Stock
	list    []*catalog.Section // by mass, then name
	mu      sync.Mutex
	done    map[Need]*answer
	resists map[string]*Resistance
}

type answer struct {
	once   sync.Once
	result *RunResult
	err    error
}

// NewTable prepares a table over those sections, which must be lipped channels or zeds; their buckling comes from stock.
func NewTable(code *Code, stock *Stock, sections []*catalog.Section) *Table {
	list := append([]*catalog.Section(nil), sections...)
	sort.SliceStable(list, func(i, j int) bool {
		a, b := list[i], list[j]
		if a.Props.Mass != b.Props.Mass {
			return a.Props.Mass < b.Props.Mass
		}
		return a.Name < b.Name
	})
	return &Table{code: code, stock: stock, list: list, done: map[Need]*answer{}, resists: map[string]*Resistance{}}
}

// Lightest returns the lightest section of the list that passes every check of the need. If none passes, the error wraps
// ErrNonePasses and the result is that of the section with the least utilisation.
func (t *Table) Lightest(n Need) (*RunResult, error) {
	t.mu.Lock()
	a := t.done[n]
	if a == nil {
		a = &answer{}
		t.done[n] = a
	}
	t.mu.Unlock()
	a.once.Do(func() { a.result, a.err = t.find(n) })
	return a.result, a.err
}

// find tries the list from the lightest. A section that fails even without local and distortional buckling fails with them, and
// is analysed only if none passes and the best of those that fail is wanted.
func (t *Table) find(n Need) (*RunResult, error) {
	run, err := n.Run()
	if err != nil {
		return nil, err
	}
	results := make([]*RunResult, len(t.list))
	for i, s := range t.list {
		if hopeless, err := t.code.hopeless(run, s); err != nil {
			return nil, err
		} else if hopeless {
			continue
		}
		if results[i], err = t.check(run, s); err != nil {
			return nil, err
		}
		if results[i].Complies() {
			return results[i], nil
		}
	}
	var best *RunResult
	for i, out := range results {
		if out == nil {
			if out, err = t.check(run, t.list[i]); err != nil {
				return nil, err
			}
		}
		if best == nil || out.Utilisation < best.Utilisation {
			best = out
		}
	}
	if best == nil {
		return nil, fmt.Errorf("%s: the list of sections is empty", n.Role)
	}
	return best, fmt.Errorf("%s of %.2f m at %.2f m: %w; the best is %s at %.2f (%s)", n.Role, n.Span, n.Spacing, ErrNonePasses,
		best.Section.Name, best.Utilisation, best.Governing.Name)
}

// check checks a run with one section.
func (t *Table) check(run *Run, s *catalog.Section) (*RunResult, error) {
	r, err := t.resistance(s)
	if err != nil {
		return nil, err
	}
	return t.code.CheckRun(run, r, nil)
}

// Hopeless tells whether s, a lipped channel or zed in its default grade, fails the need even if it had neither local nor
// distortional buckling: it then fails with them, and need not be analysed by finite strips.
func (c *Code) Hopeless(n Need, s *catalog.Section) (bool, error) {
	run, err := n.Run()
	if err != nil {
		return false, err
	}
	return c.hopeless(run, s)
}

func (c *Code) hopeless(run *Run, s *catalog.Section) (bool, error) {
	if len(s.Grades) == 0 {
		return false, nil // the full check says so
	}
	out, err := c.CheckRun(run, c.Resist(unbuckled(s), s.Grades[0], nil), nil)
	return err == nil && !out.Complies(), err
}

// resistance returns a section's capacities in its default grade, computed once.
func (t *Table) resistance(s *catalog.Section) (*Resistance, error) {
	b, err := t.stock.Get(s)
	if err != nil {
		return nil, err
	}
	if len(s.Grades) == 0 {
		return nil, fmt.Errorf("%s has no grade", s.Name)
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	r := t.resists[s.Name]
	if r == nil {
		r = t.code.Resist(b, s.Grades[0], nil)
		t.resists[s.Name] = r
	}
	return r, nil
}
