package frame

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// straight is the greatest sine between neighbouring elements of a member, and the greatest turn of their local axes,
// that still counts as one straight piece: files with coordinates in whole millimetres bend a member that much.
const straight = 1e-3

// minLength is the shortest element, in metres: shorter ones are slips of input and make the stiffness useless.
const minLength = 1e-6

// alongAxis is the least sine between an element and its YAxis for the direction to mean anything.
const alongAxis = 1e-6

// checkValues checks the numbers of s: what may differ between structures of one topology.
func checkValues(s *solver.Structure) error {
	var errs []error
	complain := func(err error) {
		if len(errs) < maxComplaints {
			errs = append(errs, err)
		}
	}
	for i := range s.Nodes {
		n := &s.Nodes[i]
		if !finite3(vec(n.Pos)) {
			complain(fmt.Errorf("node %d: its position is not a number", n.ID))
		}
		for d, k := range n.Spring {
			if !(k >= 0) || math.IsInf(k, 1) {
				complain(fmt.Errorf("node %d: spring %s is %g; give a stiffness of 0 or more", n.ID, solver.DOF(d), k))
			}
		}
	}
	for i := range s.Elements {
		if err := checkElement(s, &s.Elements[i]); err != nil {
			complain(err)
		}
	}
	if errs != nil {
		return errors.Join(errs...)
	}
	for i := range s.Members {
		if err := checkStraight(s, &s.Members[i]); err != nil {
			complain(err)
		}
	}
	if s.Table != nil && !s.Table.Sound() {
		complain(errors.New("the table of point loads has a force that is not a number"))
	}
	for c := range s.Cases {
		if k := s.Cases[c].Column; k < 0 || k > 0 && (s.Table == nil || k > s.Table.Columns()) {
			complain(fmt.Errorf("case %s: the table of point loads has no column %d", s.Cases[c].ID, k))
		}
		if err := checkPushes(s, &s.Cases[c]); err != nil {
			complain(err)
		}
		for i := range s.Cases[c].Nodal {
			l := &s.Cases[c].Nodal[i]
			if l.Node < 0 || l.Node >= len(s.Nodes) {
				complain(fmt.Errorf("case %s, nodal load %d: names node index %d of %d", s.Cases[c].ID, i+1, l.Node, len(s.Nodes)))
			} else if !finite3(vec(l.F)) || !finite3(vec(l.M)) {
				complain(fmt.Errorf("case %s, nodal load %d at node %d: it is not a number", s.Cases[c].ID, i+1, s.Nodes[l.Node].ID))
			}
		}
	}
	return errors.Join(errs...)
}

// checkPushes checks what a case pushes at places of the structure's table.
func checkPushes(s *solver.Structure, c *solver.Case) error {
	if len(c.Pushes) > 0 && !finite3(vec(c.Along)) {
		return fmt.Errorf("case %s: the direction of its pushes is not a number", c.ID)
	}
	for i, q := range c.Pushes {
		if s.Table == nil || q.Place < 0 || q.Place >= len(s.Table.Places()) {
			return fmt.Errorf("case %s, push %d: the table of point loads has no place %d", c.ID, i+1, q.Place)
		}
		if !finite(q.Force) {
			return fmt.Errorf("case %s, push %d: it is not a number", c.ID, i+1)
		}
	}
	return nil
}

func checkElement(s *solver.Structure, el *solver.Element) error {
	least, most := min(el.G, el.Density, el.Iy, el.Iz, el.It, el.Asy, el.Asz), max(el.E, el.A, el.G, el.Density, el.Iy, el.Iz, el.It, el.Asy, el.Asz)
	if !(el.E > 0 && el.A > 0 && least >= 0 && most <= math.MaxFloat64) {
		return badNumber(el)
	}
	if el.SpringI != [6]float64{} || el.SpringJ != [6]float64{} {
		if err := checkSprings(el); err != nil {
			return err
		}
	}
	if (el.Asy > 0 || el.Asz > 0) && el.G == 0 && !isBar(el) {
		return fmt.Errorf("element %s: has a shear area but G is 0", el.ID)
	}
	d := r3.Sub(r3.Add(s.Nodes[el.J].Pos, el.OffsetJ), r3.Add(s.Nodes[el.I].Pos, el.OffsetI))
	l := distance(d)
	if !(l > minLength) || math.IsInf(l, 1) {
		return fmt.Errorf("element %s: from node %d to node %d its length is %g m; move a node or an offset",
			el.ID, s.Nodes[el.I].ID, s.Nodes[el.J].ID, l)
	}
	if isBar(el) {
		return nil
	}
	n := distance(el.YAxis)
	if !(n > 0) || math.IsInf(n, 1) || distance(r3.Cross(el.YAxis, d)) < alongAxis*n*l {
		return fmt.Errorf("element %s: its local y direction (%g, %g, %g) is zero or runs along the element; give one across it",
			el.ID, el.YAxis.X, el.YAxis.Y, el.YAxis.Z)
	}
	return nil
}

// badNumber names the first number of an element that is none or not of the sign it must have.
func badNumber(el *solver.Element) error {
	for _, q := range [...]struct {
		name     string
		v        float64
		positive bool
	}{
		{"E", el.E, true}, {"A", el.A, true}, {"G", el.G, false}, {"density", el.Density, false}, {"Iy", el.Iy, false},
		{"Iz", el.Iz, false}, {"J", el.It, false}, {"Asy", el.Asy, false}, {"Asz", el.Asz, false},
	} {
		if !(q.v >= 0) || math.IsInf(q.v, 1) || q.positive && q.v == 0 {
			return fmt.Errorf("element %s: %s is %g; it must be a positive number", el.ID, q.name, q.v)
		}
	}
	return nil
}

func checkSprings(el *solver.Element) error {
	for c := range 6 {
		if k, l := el.SpringI[c], el.SpringJ[c]; !(k >= 0) || !(l >= 0) || math.IsInf(k, 1) || math.IsInf(l, 1) {
			return fmt.Errorf("element %s: end spring %s is %g and %g; give a stiffness of 0 (rigid) or more", el.ID, solver.Component(c), k, l)
		}
	}
	return nil
}

// checkStraight holds a member to be one straight piece with one set of local axes.
func checkStraight(s *solver.Structure, m *solver.Member) error {
	if len(m.Elements) < 2 {
		return nil
	}
	la, a := axesOf(s, &s.Elements[m.Elements[0]])
	for k := 1; k < len(m.Elements); k++ {
		ea, eb := &s.Elements[m.Elements[k-1]], &s.Elements[m.Elements[k]]
		lb, b := axesOf(s, eb)
		gap := distance(r3.Sub(ea.OffsetJ, eb.OffsetI))
		if gap > straight*min(la, lb) {
			return fmt.Errorf("member %s: elements %s and %s do not meet: their offsets differ by %g m", m.ID, ea.ID, eb.ID, gap)
		}
		for i := range 3 {
			if isBar(ea) && i > 0 {
				break
			}
			dot := a[i][0]*b[i][0] + a[i][1]*b[i][1] + a[i][2]*b[i][2]
			if dot < 1-straight*straight/2*1.01 {
				return fmt.Errorf("member %s: elements %s and %s are not one straight piece with one local y direction; split the member there",
					m.ID, ea.ID, eb.ID)
			}
		}
		la, a = lb, b
	}
	return nil
}
