package optimize

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Measures of progress. A growth of the hypervolume below growth, as a share of it, counts as none, and so does that of a
// single objective below growthOfOne; an island is renewed after patience generations in which the front filled no new box;
// after idleLimit generations without a new variant the space is taken as exhausted.
const (
	growth      = 1e-4
	growthOfOne = 1e-5
	patience    = 15
	idleLimit   = 5
)

// progress measures the front. It decides nothing about variants: boxes and volumes only say whether the run still moves.
type progress struct {
	objectives []Objective
	Reference  []float64 `json:"reference,omitempty"`
	Box        []float64 `json:"box,omitempty"`
	Volume     float64   `json:"volume"` // now
	Mark       float64   `json:"mark"`   // when it last grew; for one objective the best value
	Since      int       `json:"since"`  // generations since then
	Filled     []string  `json:"filled"` // boxes ever filled, sorted
	SinceBox   int       `json:"since_box"`
	Nearest    string    `json:"nearest,omitempty"` // key of the nearest miss, before there is a front
}

func newProgress(o []Objective) *progress { return &progress{objectives: o} }

// look brings the measures up to date at the end of a generation.
func (p *progress) look(e *engine) {
	p.Since++
	p.SinceBox++
	front := e.archive.Front()
	if len(front) == 0 {
		if c := e.archive.Closest(); c != nil && c.Key != p.Nearest {
			p.Nearest, p.Since, p.SinceBox = c.Key, 0, 0
		}
		return
	}
	if p.Reference == nil {
		p.scale(e.fresh)
		p.Mark = math.Inf(-1)
		p.Since = 0
	}
	value, least := p.value(front), growth
	if len(p.objectives) == 1 {
		least = growthOfOne
	}
	if p.Mark == math.Inf(-1) || value-p.Mark > least*math.Abs(p.Mark) {
		p.Mark, p.Since = value, 0
	}
	p.fill(front)
}

// value is the measure that grows: the hypervolume, or the best single objective with its sign turned.
func (p *progress) value(front []Variant) float64 {
	if len(p.objectives) == 1 {
		return -front[0].Score.Objectives[0]
	}
	points := make([][]float64, len(front))
	for i := range front {
		points[i] = front[i].Score.Objectives
	}
	p.Volume = Hypervolume(points, p.Reference)
	return p.Volume
}

// scale fixes the reference point and the boxes by the first class 0 variants, where the problem leaves them open.
func (p *progress) scale(vs []Variant) {
	for m, o := range p.objectives {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range vs {
			if vs[i].Score.Class == 0 {
				v := vs[i].Score.Objectives[m]
				lo, hi = min(lo, v), max(hi, v)
			}
		}
		width := hi - lo
		if width == 0 {
			width = max(math.Abs(hi), 1)
		}
		reference, box := o.Reference, o.Box
		if reference == 0 {
			reference = lo + 1.1*width
		}
		if box == 0 {
			box = width / 1000
		}
		p.Reference, p.Box = append(p.Reference, reference), append(p.Box, box)
	}
}

// fill notes the boxes of the front; a new one is progress.
func (p *progress) fill(front []Variant) {
	for i := range front {
		var b strings.Builder
		for m, v := range front[i].Score.Objectives {
			fmt.Fprintf(&b, "%.0f ", math.Floor(v/p.Box[m]))
		}
		if at, ok := slices.BinarySearch(p.Filled, b.String()); !ok {
			p.Filled = slices.Insert(p.Filled, at, b.String())
			p.SinceBox = 0
		}
	}
}

// renew marks an island, in turn, to start afresh when the front fills no new box any more.
func (e *engine) renew() {
	if e.cfg.NoRestart || e.progress.SinceBox < patience {
		return
	}
	e.islands[e.restarts%len(e.islands)].renew = true
	e.restarts++
	e.progress.SinceBox = 0
}

// stop returns the reason to end, or Running.
func (e *engine) stop() Reason {
	s := e.cfg.Stop
	switch {
	case float64(len(e.seen)) >= e.space.Size() || e.idle >= idleLimit:
		return Exhausted
	case s.Evaluations > 0 && len(e.seen) >= s.Evaluations:
		return Evaluation
	case s.Generations > 0 && e.generation >= s.Generations:
		return Generation
	case s.Stagnation > 0 && e.progress.Since >= s.Stagnation:
		return Stagnation
	case s.Time > 0 && e.now().Sub(e.began) >= s.Time:
		return TimeUp
	}
	return Running
}
