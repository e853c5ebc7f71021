package joints

import (
	"math"
	"strings"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

func capacityOf(mem *solver.Member) (*as4100.Capacity, error) {
	return (*as4100.Rules)(nil).New(mem.Section, mem.Grade)
}

// seatOf is the first seat on a member that what names.
func seatOf(t *testing.T, m *shed.Model, d *brief.Details, member, what string) *Seat {
	t.Helper()
	list := (&Seater{Details: d, Capacity: capacityOf}).Seats(m)
	for i := range list {
		if m.Structure.Members[list[i].On].ID == member && strings.HasPrefix(list[i].what, what) {
			return &list[i]
		}
	}
	t.Fatalf("no %q on %s", what, member)
	return nil
}

// TestSeatForces: what presses at a seat is what the diagrams of the members say: a prop's compression at its cap and the
// rafter's moment there, a beam's reaction on a post, a joist's share of the load on its beam.
func TestSeatForces(t *testing.T) {
	m, answers, res := loaded(t, "packhouse", 2e3)
	d := &brief.Details{}
	index := map[string]int{}
	for i := range m.Structure.Members {
		index[m.Structure.Members[i].ID] = i
	}
	at := func(k int, member string, station float64, c solver.Component) float64 {
		var curve solver.Diagram
		res[k].Diagram(index[member], &curve)
		return curve.At(station)[c]
	}
	cap := seatOf(t, m, d, "rafter/2/A-ridge", "cap")
	end := seatOf(t, m, d, "beam/office/Y4.40/X0.00-4.90", "end")
	joist := seatOf(t, m, d, "beam/office/Y4.40/X0.00-4.90", "joists")
	l := m.Structure.Members[index["beam/office/Y4.40/X0.00-4.90"]].Length
	for k, a := range answers {
		r, mom, _ := cap.Force(a)
		prop := m.Structure.Members[m.Props[0]]
		near(t, "force of the cap", r, math.Max(0, -at(k, prop.ID, prop.Length, solver.N)), 1e-6, "the members' diagrams")
		near(t, "moment over the cap", mom, math.Abs(at(k, "rafter/2/A-ridge", cap.Station, solver.Mz)), 1e-6, "the members' diagrams")
		// Vy is dM/dx here turned round: a beam that hangs down between supports has Vy < 0 at its start.
		r, _, _ = end.Force(a)
		near(t, "reaction of the beam", r, math.Max(0, -at(k, "beam/office/Y4.40/X0.00-4.90", 0, solver.Vy)), 1e-6, "the members' diagrams")
		whole := at(k, "beam/office/Y4.40/X0.00-4.90", l, solver.Vy) - at(k, "beam/office/Y4.40/X0.00-4.90", 0, solver.Vy)
		r, _, _ = joist.Force(a)
		near(t, "one joist", r, math.Max(0, whole)*0.45/l, 1e-6, "the members' diagrams")
	}
}

// TestSeatByHand works the rafter's walls over a prop of packhouse: 350x250x6.0RHS C450 (rext 15, d5 320), the prop 100 mm
// deep. ks 4, kv 53.33, alpha_pm 0.2594, alpha_p 0.2503; bb = 100 + 75 + 320 = 495: phi Rby = 0.9 x 2 x 0.2503 x 495 x 6 x
// 450 = 602.2 kN; Le/r 186.7, lambda_n 250.4, alpha_c 0.1126 (table 0.113 at 250): phi Rbb = 0.9 x 2 x 0.1126 x 495 x 6 x
// 450 = 270.9 kN. With R* 40 kN and M* 100 kN·m, phi Msx 247.4: 0.8 x 40/270.9 + 100/247.4 = 0.5223.
func TestSeatByHand(t *testing.T) {
	m, _, _ := loaded(t, "packhouse", 1)
	s := seatOf(t, m, &brief.Details{}, "rafter/2/A-ridge", "cap")
	near(t, "phi Rb, kN", s.web.Capacity/1e3, 270.9, 1e-3, "by hand above")
	near(t, "bearing with bending", s.web.Radial(40e3, 100e3), 0.5223, 1e-3, "by hand above")
	var w checks.Working
	if u := s.web.Work(40e3, 100e3, &w); u != s.web.Radial(40e3, 100e3) || len(w.Steps) < 4 {
		t.Errorf("the working ends at %g, the check at %g, in %d steps", u, s.web.Radial(40e3, 100e3), len(w.Steps))
	}
	// The stated cap plate is longer: bb grows by 100 mm.
	d := &brief.Details{PropCap: &brief.Detail{Kind: "cap plate", Plate: brief.Plate{Depth: 0.2}}}
	near(t, "with a plate of 200 mm", seatOf(t, m, d, "rafter/2/A-ridge", "cap").web.Capacity/1e3, 270.9*595/495, 1e-3, "by hand above")
}

// TestSeatsByDetail: a stated cleat passes a beam's reaction and a joist's through their webs.
func TestSeatsByDetail(t *testing.T) {
	m, _, _ := loaded(t, "packhouse", 1)
	count := func(d *brief.Details) (caps, ends, joists int) {
		for _, s := range (&Seater{Details: d, Capacity: capacityOf}).Seats(m) {
			switch s.what {
			case "cap of":
				caps++
			case "end over":
				ends++
			case "joists":
				joists++
			}
		}
		return
	}
	// Two props; three posts on the inner edge, with beams along from two bays and three across; two beams in each of two
	// bays carry joists.
	if c, e, j := count(&brief.Details{}); c != 2 || e != 7 || j != 4 {
		t.Errorf("%d caps, %d ends, %d beams with joists; by the drawing 2, 7, 4", c, e, j)
	}
	cleat := &brief.Detail{Kind: "cleat"}
	if c, e, j := count(&brief.Details{BeamEnd: cleat, JoistEnd: cleat}); c != 2 || e != 0 || j != 0 {
		t.Errorf("with cleats %d caps, %d ends, %d beams with joists; 2, 0, 0", c, e, j)
	}
}
