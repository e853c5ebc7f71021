package frames

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/experiments/jsontree"
	"leanbay/solver"
)

// top takes the whole file. Parts are taken in the order of their references, whatever their order in the file.
func (r *reader) top(v *jsontree.Value) {
	schema := ""
	anything := func(*jsontree.Value) {}
	r.object(v, "the frame", true, []field{
		{"schema", "", false, r.words("schema", &schema)},
		{"id", "", false, r.words("id", &r.file.ID)},
		{"title", "", false, r.words("title", &r.file.Title)},
		{"notes", "", false, anything},
		{"source", "", false, anything},
		{"units", "", false, anything},
		{"conventions", "", false, anything},
		{"nodes", "a list of {id, x, y, z}", true, r.takeNodes},
		{"supports", "", false, r.takeSupports},
		{"members", "a list of {id, i, j, E, G, A, Iy, Iz, J, …}", true, r.takeMembers},
		{"load_cases", "a list of {id, analysis, nodal, udl, point}", true, r.takeCases},
	})
	switch {
	case v.Kind != jsontree.Object || schema == Schema:
	case schema == "":
		r.warn(v.Pos, "no schema is named; read as %q", Schema)
	default:
		r.warn(v.Pos, "schema %q is not known; read as %q", schema, Schema)
	}
}

func (r *reader) takeNodes(v *jsontree.Value) {
	r.nodes = map[int]int{}
	s := r.file.Structure
	r.each(v, "nodes", func(i int, item *jsontree.Value) {
		before := len(r.mistakes)
		var n solver.Node
		var ok bool
		what := labelled("node", item, i)
		r.object(item, what, false, []field{
			{"id", "a whole number", true, r.whole(what+": id", &n.ID, &ok)},
			{"x", "metres", true, r.real(what+": x", &n.Pos.X)},
			{"y", "metres", true, r.real(what+": y", &n.Pos.Y)},
			{"z", "metres, upwards", true, r.real(what+": z", &n.Pos.Z)},
		})
		if !ok {
			return
		}
		if _, twice := r.nodes[n.ID]; twice {
			r.mistake(item.Pos, "node %d is given twice; ids must differ", n.ID)
			return
		}
		r.nodes[n.ID] = len(s.Nodes)
		r.doubtful = append(r.doubtful, len(r.mistakes) > before)
		s.Nodes = append(s.Nodes, n)
	})
	if v.Kind == jsontree.List && len(v.Items) == 0 {
		r.mistake(v.Pos, "nodes is empty; give at least two")
	}
}

// labelled calls an item of a list by its id where it has one, else by its place in the list.
func labelled(kind string, v *jsontree.Value, i int) string {
	for _, f := range v.Fields {
		if f.Key == "id" && (f.Value.Kind == jsontree.Text || f.Value.Kind == jsontree.Number) {
			return fmt.Sprintf("%s %s", kind, f.Value.Literal)
		}
	}
	return fmt.Sprintf("%s number %d", kind, i+1)
}

func (r *reader) takeSupports(v *jsontree.Value) {
	s := r.file.Structure
	seen := map[int]int{}
	r.each(v, "supports", func(i int, item *jsontree.Value) {
		what := fmt.Sprintf("support number %d", i+1)
		node := -1
		var held [6]bool
		var spring [6]float64
		fields := []field{{"node", "the id of a node", true, r.nodeRef(what+": node", &node)}}
		for d := range solver.DOF(6) {
			unit := "N/m"
			if d >= solver.RX {
				unit = "N·m/rad"
			}
			fields = append(fields, field{d.String(), "", false, r.boolean(what+": "+d.String(), &held[d])},
				field{springKey(d), "", false, r.quantity(what+": "+springKey(d), unit, true, &spring[d])})
		}
		if !r.object(item, what, false, fields) || node < 0 {
			return
		}
		if line, twice := seen[node]; twice {
			r.mistake(item.Pos, "node %d was given a support already in line %d; join them in one", s.Nodes[node].ID, line)
			return
		}
		seen[node] = item.Line
		for d := range solver.DOF(6) {
			if held[d] && spring[d] > 0 {
				r.warn(item.Pos, "%s: %s is held, so %s does nothing", what, d, springKey(d))
				spring[d] = 0
			}
		}
		s.Nodes[node].Held, s.Nodes[node].Spring = held, spring
	})
}

// springKey names the spring to a freedom: kx … krz.
func springKey(d solver.DOF) string {
	if d < solver.RX {
		return "k" + d.String()[1:]
	}
	return "k" + d.String()
}

func (r *reader) takeMembers(v *jsontree.Value) {
	r.members = map[string]int{}
	s := r.file.Structure
	r.each(v, "members", func(i int, item *jsontree.Value) {
		before := len(r.mistakes)
		el := solver.Element{I: -1, J: -1, Member: len(s.Members)}
		if !r.member(item, labelled("member", item, i), &el) || el.ID == "" {
			return
		}
		if _, twice := r.members[el.ID]; twice {
			r.mistake(item.Pos, "member %s is given twice; ids must differ", el.ID)
			return
		}
		length := 0.0
		if len(r.mistakes) == before && !r.doubtful[el.I] && !r.doubtful[el.J] {
			length = r.checkMember(item, &el)
		}
		r.members[el.ID] = len(s.Members)
		r.length = append(r.length, length)
		s.Members = append(s.Members, solver.Member{ID: el.ID, Role: solver.RoleOther, Elements: []int{len(s.Elements)}, Length: length})
		s.Elements = append(s.Elements, el)
	})
	if v.Kind == jsontree.List && len(v.Items) == 0 {
		r.mistake(v.Pos, "members is empty; give at least one")
	}
}

// member takes the fields of one member. Bars need neither bending nor torsion nor a roll.
func (r *reader) member(v *jsontree.Value, what string, el *solver.Element) bool {
	var tension, compression bool
	flags := []field{
		{"rod", "", false, r.boolean(what+": rod", &el.Bar)},
		{"tension_only", "", false, r.boolean(what+": tension_only", &tension)},
		{"compression_only", "", false, r.boolean(what+": compression_only", &compression)},
	}
	for _, f := range flags { // known before the rest, which they make optional
		for i := range v.Fields {
			if x := &v.Fields[i]; x.Key == f.key && x.Value.Kind == jsontree.Boolean {
				f.take(&x.Value)
			}
		}
	}
	bar := el.Bar || tension || compression
	q := func(key, unit string, need, zero bool, to *float64) field {
		return field{key, unit, need, r.quantity(what+": "+key, unit, zero, to)}
	}
	ok := r.object(v, what, false, append(flags,
		field{"id", "a text", true, r.label(what+": id", &el.ID)},
		field{"i", "the id of a node", true, r.nodeRef(what+": i", &el.I)},
		field{"j", "the id of a node", true, r.nodeRef(what+": j", &el.J)},
		q("E", "Pa", true, false, &el.E),
		q("G", "Pa", !bar, true, &el.G),
		q("A", "m²", true, false, &el.A),
		q("Iy", "m⁴, bending in the local x-z plane", !bar, true, &el.Iy),
		q("Iz", "m⁴, bending in the local x-y plane", !bar, true, &el.Iz),
		q("J", "m⁴, torsion", !bar, true, &el.It),
		q("Asy", "m², or null for no shear deformation", false, false, &el.Asy),
		q("Asz", "m², or null for no shear deformation", false, false, &el.Asz),
		field{"y_axis", "the local y direction, [x, y, z]", !bar, r.vector(what+": y_axis", &el.YAxis)},
		field{"release_i", "", false, r.releases(what+": release_i", &el.ReleaseI)},
		field{"release_j", "", false, r.releases(what+": release_j", &el.ReleaseJ)},
		field{"springs_i", "", false, r.springs(what+": springs_i", &el.SpringI, &el.ReleaseI)},
		field{"springs_j", "", false, r.springs(what+": springs_j", &el.SpringJ, &el.ReleaseJ)},
		field{"offset_i", "", false, r.vector(what+": offset_i", &el.OffsetI)},
		field{"offset_j", "", false, r.vector(what+": offset_j", &el.OffsetJ)},
		q("density", "kg/m³", false, true, &el.Density),
	))
	switch {
	case tension && compression:
		r.mistake(v.Pos, "%s is both tension_only and compression_only; keep one", what)
	case tension:
		el.Acts = solver.TensionOnly
	case compression:
		el.Acts = solver.CompressionOnly
	}
	if el.Acts != solver.BothWays && !el.Bar {
		r.warn(v.Pos, "%s acts one way and is no rod; it is taken as a straight bar, pinned at both ends", what)
	}
	return ok
}

var components = []string{"N", "Vy", "Vz", "T", "My", "Mz"}

// releases takes a list of local end components that transmit nothing.
func (r *reader) releases(what string, to *[6]bool) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		r.each(v, what, func(_ int, item *jsontree.Value) {
			var c string
			if r.word(what, components, &c)(item); c != "" {
				to[slices.Index(components, c)] = true
			}
		})
	}
}

// springs takes end springs. A stiffness of 0 transmits nothing: it is a release.
func (r *reader) springs(what string, to *[6]float64, released *[6]bool) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		var fields []field
		for c := solver.T; c <= solver.Mz; c++ {
			fields = append(fields, field{c.String(), "", false, func(v *jsontree.Value) {
				k := math.NaN()
				r.quantity(what+": "+c.String(), "N·m/rad", true, &k)(v)
				switch {
				case math.IsNaN(k):
				case k == 0:
					released[c] = true
				case released[c]:
					r.mistake(v.Pos, "%s: %s is released and sprung at this end; keep one", what, c)
				default:
					to[c] = k
				}
			}})
		}
		r.object(v, what, false, fields)
	}
}

const (
	// minLength is the shortest member (m): shorter ones are slips.
	minLength = 1e-6
	// alongAxis is the least sine between a member and its y_axis for the direction to mean anything.
	alongAxis = 1e-6
)

// checkMember holds the parts of a member against each other and returns its length between its ends (m), or 0 if it
// cannot be told.
func (r *reader) checkMember(v *jsontree.Value, el *solver.Element) float64 {
	s := r.file.Structure
	if el.I == el.J {
		r.mistake(v.Pos, "member %s: both ends are node %d; give two different nodes", el.ID, s.Nodes[el.I].ID)
		return 0
	}
	d := r3.Sub(r3.Add(s.Nodes[el.J].Pos, el.OffsetJ), r3.Add(s.Nodes[el.I].Pos, el.OffsetI))
	l := r3.Norm(d)
	if !(l > minLength) || math.IsInf(l, 1) {
		r.mistake(v.Pos, "member %s: from node %d to node %d its length is %g m; move a node or an offset",
			el.ID, s.Nodes[el.I].ID, s.Nodes[el.J].ID, l)
		return 0
	}
	if el.Bar || el.Acts != solver.BothWays {
		if el.ReleaseI[solver.N] || el.ReleaseJ[solver.N] {
			r.mistake(v.Pos, "member %s: a bar that releases N carries nothing; take the release or the member out", el.ID)
		}
		// A bar has no bending or torsion that a joint could release or soften.
		el.ReleaseI, el.ReleaseJ, el.SpringI, el.SpringJ = [6]bool{}, [6]bool{}, [6]float64{}, [6]float64{}
		return l
	}
	if y := r3.Norm(el.YAxis); y < tiny || r3.Norm(r3.Cross(el.YAxis, d)) < alongAxis*y*l {
		r.mistake(v.Pos, "member %s: y_axis [%g, %g, %g] is zero or runs along the member; give a direction across it",
			el.ID, el.YAxis.X, el.YAxis.Y, el.YAxis.Z)
	}
	if el.G == 0 && (el.Asy > 0 || el.Asz > 0) {
		r.mistake(v.Pos, "member %s has a shear area but G is 0; give G in Pa, or null for the shear areas", el.ID)
	}
	return l
}
