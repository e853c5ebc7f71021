package shedspace

import (
	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// findSeats lists where forces press on webs in a model.
func (j *judge) findSeats(m *shed.Model) {
	j.seater.Details = &j.p.Brief.Proposal.Details
	if j.seater.Capacity == nil {
		j.seater.Capacity = func(mem *solver.Member) (*as4100.Capacity, error) {
			return j.capacity(shed.Steel{Section: mem.Section, Grade: mem.Grade})
		}
	}
	j.seats = j.seater.Seats(m)
}

// checkSeats checks the webs under all analysed combinations: seats need only the forces at the ends of elements. index
// gives a member's place in plane frames analysed alone, -1 for none; nil is the whole shed.
func (j *judge) checkSeats(m *shed.Model, st *solver.Structure, index []int, a *Assessment) {
	for i := range j.seats {
		s := &j.seats[i]
		if index != nil && index[s.On] < 0 {
			continue
		}
		if r, k, ok := j.worstSeat(s, st, index); ok {
			mem := &m.Structure.Members[s.On]
			a.note(mem.Group, mem.ID, j.combos[k].ID, index != nil, r)
		}
	}
}

// worstSeat is the worst of a seat's checks and its combination; ok is false where nothing presses.
func (j *judge) worstSeat(s *joints.Seat, st *solver.Structure, index []int) (worst checks.Result, in int, ok bool) {
	answer := joints.Answer{Structure: st, Index: index}
	for k := range j.combos {
		answer.Ends = j.res[k].Ends
		if r, pressed := s.Result(&answer); pressed && r.Utilisation > worst.Utilisation {
			worst, in, ok = r, k, true
		}
	}
	worst.Combination = in
	return worst, in, ok
}

// seatsOnPage adds the worst seat of each kind on a member to its page: the result with its combination, and the working.
func (j *judge) seatsOnPage(st *solver.Structure, at int, page *Page) {
	for i := range j.seats {
		s := &j.seats[i]
		if s.On != at {
			continue
		}
		r, k, ok := j.worstSeat(s, st, nil)
		if !ok {
			continue
		}
		page.Results = append(page.Results, r)
		page.Names = append(page.Names, j.combos[k].ID)
		answer := joints.Answer{Name: j.combos[k].ID, Structure: st, Ends: j.res[k].Ends}
		s.Work(&answer, &page.Working)
	}
}

// joistSeat is the bearing length (m) of joists on their beams: a stated cap plate, or what is taken where no detail is
// stated; 0 where a stated cleat holds them by their webs.
func joistSeat(b *brief.Brief) float64 {
	d := b.Proposal.Details.JoistEnd
	switch {
	case d == nil:
		return joints.JoistSeat
	case d.Kind == "cap plate":
		return float64(d.Plate.Depth)
	}
	return 0
}
