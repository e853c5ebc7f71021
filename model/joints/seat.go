package joints

import (
	"fmt"
	"math"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// JoistSeat is the bearing length (m) that is taken for a joist on its beam where no detail is stated: what stays of a
// beam's flange beside the clearance (site practice).
const JoistSeat = 0.050

// Seat is a place where a force presses on a member's web or walls: a prop's cap under a rafter, a prop's foot on a beam,
// a beam's end on a post, joists on a beam.
type Seat struct {
	On      int     // the member pressed, by its index in the model
	Station float64 // m along it; NaN for joists, which press everywhere

	what, by, from string // what presses, of which member, and where its length comes from
	length         float64

	web    as4100.Seat
	press  cut   // the end whose force presses
	shear  bool  // by its shear, else by its axial compression
	bends  []cut // where the moment at the seat is read
	joists float64
}

// Words say what presses and over what length.
func (s *Seat) Words() string {
	by := s.by
	if s.joists > 0 {
		by = fmt.Sprintf("every %.2f m", s.joists)
	}
	return fmt.Sprintf("%s %s, bearing %.0f mm long (%s)", s.what, by, s.length*1e3, s.from)
}

// cut is an end of one element of a member of the model.
type cut struct {
	member, element int // the element's place in the member
	far             bool
}

// Seater finds the seats of models, in storage that serves again: those of the model before are gone.
type Seater struct {
	Details  *brief.Details                                 // as stated
	Capacity func(*solver.Member) (*as4100.Capacity, error) // a member's section capacity; one whose section it refuses has no seats

	m    *shed.Model
	out  []Seat
	cuts []cut // that seats are read at
}

// Seats lists the places of m where a force presses on a web. A stated cap plate gives the bearing length; else the width of what
// presses is taken. A stated cleat or end plate passes its force through the web, so that there is no seat.
func (s *Seater) Seats(m *shed.Model) []Seat {
	d := s.Details
	s.m, s.out, s.cuts = m, s.out[:0], s.cuts[:0]
	for _, p := range m.Props {
		s.prop(p)
	}
	joistBears := d.JoistEnd == nil || plateLength(d.JoistEnd) > 0
	for _, b := range m.JoistBeams() {
		if joistBears {
			s.joistsOn(b)
		}
	}
	if d.BeamEnd == nil || plateLength(d.BeamEnd) > 0 {
		for _, b := range m.BeamMembers() {
			s.beamEnd(b, false)
			s.beamEnd(b, true)
		}
	}
	return s.out
}

// plateLength is the bearing length of a stated cap plate, 0 for other details.
func plateLength(d *brief.Detail) float64 {
	if d == nil || d.Kind != "cap plate" {
		return 0
	}
	return float64(d.Plate.Depth)
}

// add keeps a seat of the given bearing on a member.
func (s *Seater) add(seat Seat, load as4100.BearingLoad) {
	mem := &s.m.Structure.Members[seat.On]
	c, err := s.Capacity(mem)
	if err != nil {
		return
	}
	load.OneFlange = !bothHeld(mem, seat.Station)
	web, ok := c.NewSeat(load)
	if !ok {
		return
	}
	seat.web = web
	s.out = append(s.out, seat)
}

// bothHeld says whether both flanges of a member are held sideways beside a station (5.13.4).
func bothHeld(mem *solver.Member, station float64) bool {
	const beside = 0.050 // m, half a bearing
	var top, bottom bool
	for _, r := range mem.Restraints {
		if math.Abs(r.Station-station) <= beside && r.Kind != solver.RestraintU {
			top = top || r.Flange != solver.BottomFlange
			bottom = bottom || r.Flange != solver.TopFlange
		}
	}
	return top && bottom
}

// prop adds the rafter over a prop's cap, and the beam under its foot.
func (s *Seater) prop(p int) {
	st := &s.m.Structure
	mem := &st.Members[p]
	if mem.Section == nil {
		return
	}
	last := len(mem.Elements) - 1
	head, foot := st.Elements[mem.Elements[last]].J, st.Elements[mem.Elements[0]].I
	length, from := mem.Section.Dims.D, "as long as the prop is deep"
	if l := plateLength(s.Details.PropCap); l > 0 {
		length, from = l, "the stated cap plate"
	}
	if r := s.m.RafterAt(head); r >= 0 {
		x, cuts := s.nodeOn(r, head)
		// The ridge's end plates join the walls of both rafters: only the eaves is an end.
		end := x - length/2
		if s.m.Shed.RidgeY == 0 || s.m.Shed.RidgeY >= s.m.Shed.Span {
			end = math.Min(end, st.Members[r].Length-x-length/2)
		}
		s.add(Seat{On: r, Station: x, what: "cap of", by: mem.ID, from: from, length: length, press: cut{p, last, true}, bends: cuts},
			as4100.BearingLoad{Length: length, Width: outer(mem.Section), EndDistance: math.Max(0, end)})
	}
	for _, b := range s.m.BeamMembers() {
		if x, cuts := s.nodeOn(b, foot); len(cuts) == 2 {
			end := math.Min(x, st.Members[b].Length-x) - length/2
			s.add(Seat{On: b, Station: x, what: "foot of", by: mem.ID, from: from, length: length, press: cut{p, 0, false}, bends: cuts},
				as4100.BearingLoad{Length: length, Width: outer(mem.Section), EndDistance: math.Max(0, end)})
		}
	}
}

// nodeOn is the station of a node on a member and the element ends there; none if it is not on it.
func (s *Seater) nodeOn(member, node int) (x float64, cuts []cut) {
	at, first := 0.0, len(s.cuts)
	for k, e := range s.m.Structure.Members[member].Elements {
		el := &s.m.Structure.Elements[e]
		if el.I == node {
			x, s.cuts = at, append(s.cuts, cut{member, k, false})
		}
		at += s.m.ElementLength(e)
		if el.J == node {
			x, s.cuts = at, append(s.cuts, cut{member, k, true})
		}
	}
	return x, s.cuts[first:len(s.cuts):len(s.cuts)]
}

// beamEnd adds a beam's end over a post or a prop that stands in a post's place: half of what is below it bears, since
// beams meet there from both sides.
func (s *Seater) beamEnd(b int, far bool) {
	st := &s.m.Structure
	mem := &st.Members[b]
	last := len(mem.Elements) - 1
	press, node, x := cut{b, 0, false}, st.Elements[mem.Elements[0]].I, 0.0
	if far {
		press, node, x = cut{b, last, true}, st.Elements[mem.Elements[last]].J, mem.Length
	}
	below := s.standsUnder(node)
	if below == nil {
		return
	}
	length, from := below.Section.Dims.D/2, "half of what is below, no detail stated"
	if l := plateLength(s.Details.BeamEnd); l > 0 {
		length, from = l/2, "half of the stated cap plate"
	}
	s.add(Seat{On: b, Station: x, what: "end over", by: below.ID, from: from, length: length, press: press, shear: true},
		as4100.BearingLoad{Length: length, Width: outer(below.Section)})
}

// standsUnder is the post that ends at a node, or nil.
func (s *Seater) standsUnder(node int) *solver.Member {
	for _, p := range s.m.Posts {
		mem := &s.m.Structure.Members[p]
		if mem.Section != nil && s.m.Structure.Elements[mem.Elements[len(mem.Elements)-1]].J == node {
			return mem
		}
	}
	return nil
}

// joistsOn adds the joists of a floor on one of its beams.
func (s *Seater) joistsOn(b shed.JoistBeam) {
	length, from := JoistSeat, "taken, no detail stated"
	if l := plateLength(s.Details.JoistEnd); l > 0 {
		length, from = l, "stated"
	}
	last := len(s.m.Structure.Members[b.Member].Elements) - 1
	s.cuts = append(s.cuts, cut{b.Member, last, true})
	s.add(Seat{On: b.Member, Station: math.NaN(), what: "joists", from: from, length: length,
		press: cut{b.Member, 0, false}, shear: true, bends: s.cuts[len(s.cuts)-1:], joists: b.Spacing},
		as4100.BearingLoad{Length: length, EndDistance: 0})
}

// read is one end's force in an answer, as an internal force of the member.
func (c cut) read(a *Answer, f solver.Component) (v float64, ok bool) {
	at := c.member
	if a.Index != nil {
		at = a.Index[c.member]
	}
	if at < 0 {
		return 0, false
	}
	ends := &a.Ends[a.Structure.Members[at].Elements[c.element]]
	if c.far {
		return ends[6+f], true
	}
	return -ends[f], true
}

// Force is what presses in an answer (N, 0 where it pulls) and the moment (N·m) at the seat. ok is false where the answer
// has no such member.
func (s *Seat) Force(a *Answer) (press, moment float64, ok bool) {
	switch {
	case s.joists > 0:
		return s.joistForce(a)
	case s.shear:
		press, ok = s.press.read(a, solver.Vy)
		if !s.press.far {
			press = -press // what holds up the start of a beam is minus the internal force there
		}
	default:
		press, ok = s.press.read(a, solver.N)
		press = -press
	}
	for _, c := range s.bends {
		if m, there := c.read(a, solver.Mz); there {
			moment = math.Max(moment, math.Abs(m))
		}
	}
	return math.Max(0, press), moment, ok
}

// joistForce is the share of one joist in the whole load of a beam, and a bound of the moment of a beam pinned at its ends:
// the greater reaction over half its length.
func (s *Seat) joistForce(a *Answer) (press, moment float64, ok bool) {
	v, ok := s.press.read(a, solver.Vy)
	w, _ := s.bends[0].read(a, solver.Vy)
	if !ok {
		return 0, 0, false
	}
	at := s.On
	if a.Index != nil {
		at = a.Index[s.On]
	}
	l := a.Structure.Members[at].Length
	total := math.Max(0, w-v)
	return total * s.joists / l, math.Max(math.Abs(v), math.Abs(w)) * l / 2, true
}

// Result is the seat's check in an answer.
func (s *Seat) Result(a *Answer) (r checks.Result, ok bool) {
	press, moment, ok := s.Force(a)
	if !ok || press == 0 {
		return r, false
	}
	u := s.web.Radial(press, moment)
	return checks.Result{Name: SeatCheck, Clause: "AS 4100 5.13", Utilisation: u, Raw: u, Station: s.Station, Combination: -1, Demand: press, Capacity: s.web.Capacity}, true
}

// SeatCheck is the name of the check of a web where a force presses on it.
const SeatCheck = "web bearing"

// Work records the seat's check in an answer.
func (s *Seat) Work(a *Answer, w *checks.Working) {
	press, moment, _ := s.Force(a)
	w.Heading(fmt.Sprintf("%s: %s, under %s: R* %.4g kN, M* %.4g kN·m", SeatCheck, s.Words(), a.Name, checks.KN(press), checks.KNm(moment)))
	s.web.Work(press, moment, w)
}
