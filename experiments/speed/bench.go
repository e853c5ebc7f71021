package speed

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"leanbay/experiments/briefs"
	"leanbay/model/brief"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
	"leanbay/solver/frame"
	"leanbay/solver/sparse"
)

// Bench says what to measure.
type Bench struct {
	Examples []string // names of shipped briefs
	Frames   []int    // generated sheds
	Repeat   int      // times of each phase, the shortest of which counts; long ones are run fewer times
	Matrix   string   // folder for stiffness matrices and right-hand sides; empty for none
	Cores    bool     // speed-up by more cores
	Search   bool     // time to the first complying variant and to a settled front
	// Watch hears what is being measured.
	Watch func(what string)
}

// Answer is all that was measured. After an interruption it holds what was complete.
type Answer struct {
	Peak        Peak        `json:"peak"`
	Clock       string      `json:"clock"`
	Rows        []Row       `json:"rows"`
	Cores       *Cores      `json:"cores,omitempty"`
	Searches    []SearchRun `json:"searches,omitempty"`
	Interrupted bool        `json:"interrupted,omitempty"`
	Caution     string      `json:"caution"`
}

// ExampleNames are the shipped briefs in the order of the table.
var ExampleNames = []string{"kit", "packhouse", "barn"}

// longShed is the number of frames from which a tenth of the times must do, two at least.
const longShed = 200

// Run measures. An interruption is no error: the answer then holds what was complete, and says so.
func (b Bench) Run(ctx context.Context) (*Answer, error) {
	a := &Answer{Clock: clockNote, Rows: []Row{}, Caution: solver.Caution}
	if b.Matrix != "" {
		if err := os.MkdirAll(b.Matrix, 0o755); err != nil {
			return nil, err
		}
	}
	b.tell("peak of one core")
	a.Peak = MeasurePeak()
	var steps []func() error
	for _, name := range b.Examples {
		steps = append(steps, func() error { return b.example(ctx, name, a) })
	}
	for _, n := range b.Frames {
		steps = append(steps, func() error { return b.generated(ctx, n, a) })
	}
	if b.Cores {
		steps = append(steps, func() (err error) { a.Cores, err = b.cores(ctx); return err })
	}
	if b.Search {
		for _, name := range b.Examples {
			steps = append(steps, func() error { return b.search(ctx, name, a) })
		}
	}
	for _, step := range steps {
		err := step()
		if ctx.Err() != nil {
			a.Interrupted = true
			return a, nil
		}
		if err != nil {
			return a, err
		}
	}
	return a, nil
}

func (b Bench) tell(format string, args ...any) {
	if b.Watch != nil {
		b.Watch(fmt.Sprintf(format, args...))
	}
}

// open reads a shipped brief and prepares it as a problem.
func open(name string) (*shedspace.Problem, error) {
	if !slices.Contains(ExampleNames, name) {
		return nil, fmt.Errorf("there is no example %q; choose from %v", name, ExampleNames)
	}
	br, err := brief.ReadFS(briefs.FS, name+".yaml")
	if err != nil {
		return nil, err
	}
	return shedspace.New(br)
}

// example measures a design of a shipped brief that the search judges to the end.
func (b Bench) example(ctx context.Context, name string, a *Answer) error {
	b.tell("%s: reading and preparing", name)
	p, err := open(name)
	if err != nil {
		return err
	}
	d, err := p.Sturdy()
	if err != nil {
		return err
	}
	b.tell("%s: evaluation", name)
	runtime.LockOSThread() // now is the time of one thread
	prof, err := p.Profile(d, b.Repeat, now)
	runtime.UnlockOSThread()
	if err != nil {
		return err
	}
	r := Row{Name: name, Frames: len(p.Shed.Frames), Planar: prof.Planar, Service: prof.Service, Total: prof.Total.Seconds()}
	for _, l := range prof.Laps {
		r.Evaluation = append(r.Evaluation, Phase{Name: l.Phase, Seconds: l.Time.Seconds()})
	}
	return b.structure(ctx, prof.Structure, prof.Combinations, b.Repeat, r, a)
}

// generated measures a generated shed.
func (b Bench) generated(ctx context.Context, frames int, a *Answer) error {
	s, err := Generate(frames)
	if err != nil {
		return err
	}
	repeat := b.Repeat
	if frames >= longShed {
		repeat = 1 + b.Repeat/10
	}
	return b.structure(ctx, s, s.Combinations, repeat, Row{Name: fmt.Sprintf("generated-%d", frames), Frames: frames}, a)
}

// structure writes a structure's matrix where that is asked for, measures it, and adds the row.
func (b Bench) structure(ctx context.Context, s *solver.Structure, combos []solver.Combination, repeat int, r Row, a *Answer) error {
	if b.Matrix != "" {
		b.tell("%s: writing its matrix", r.Name)
		if err := WriteSystem(b.Matrix, r.Name, s); err != nil {
			return err
		}
	}
	b.tell("%s: phases", r.Name)
	g := watchMemory()
	err := measure(ctx, s, combos, repeat, &r)
	g.end()
	r.PeakHeap, r.PeakHeld = g.heap, g.held
	if err == nil {
		a.Rows = append(a.Rows, r)
	}
	return err
}

// WriteSystem writes the first-order stiffness of s and the load vectors of its cases into dir: NAME-stiffness.mtx (symmetric
// coordinate form) and NAME-loads.mtx (array form).
func WriteSystem(dir, name string, s *solver.Structure) error {
	m, err := frame.Compile(s)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	w := m.NewWorkspace()
	if err := w.Load(s); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	p, nc := m.Symbolic().Pattern(), len(s.Cases)
	k, f := make([]float64, p.NNZ()), make([]float64, p.N*nc)
	w.Stiffness(k)
	w.LoadVectors(f)
	const order = "Unknowns are the freedoms that are not held, node by node, in the order ux uy uz rx ry rz, nodes in the order\n" +
		"of the structure: frame after frame. Displacements are in m and rad.\n"
	about := fmt.Sprintf("Shed %s: %d nodes, %d elements.\n", name, len(s.Nodes), len(s.Elements))
	err = writeFile(filepath.Join(dir, name+"-stiffness.mtx"), func(f *os.File) error {
		return p.WriteMatrixMarket(f, k, about+"First-order stiffness, all rods acting: N/m, N and N m/rad. Lower triangle.\n"+order+solver.Caution)
	})
	if err != nil {
		return err
	}
	about += "Load vectors, one column a case:"
	for i := range s.Cases {
		about += " " + s.Cases[i].ID
	}
	return writeFile(filepath.Join(dir, name+"-loads.mtx"), func(file *os.File) error {
		return sparse.WriteMatrixMarketBlock(file, f, p.N, nc, about+"; N and N m.\n"+order+solver.Caution)
	})
}

// writeFile creates a file and closes it, with the first error of either.
func writeFile(name string, write func(*os.File) error) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	err = write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
