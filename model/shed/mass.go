package shed

import (
	"math"

	"leanbay/catalog"
	"leanbay/model/brief"
)

// Mass is the steel of a design in kg, in the lines of a tender: no cladding (engineering practice: what is compared is
// what the fabricator buys).
type Mass struct {
	Groups      map[brief.Group]float64 // net, by group, secondaries included
	Primary     float64                 // frames, props, mullions, floors' beams and posts
	Bracing     float64                 // struts, rods, diagonals
	Secondary   float64                 // purlins, girts, joists
	Openings    float64                 // jambs, lintels and sills: they stand on the floor
	FlyBraces   float64                 // from purlins to the inner flanges of open rafters
	BasePlates  float64
	Connections float64 // allowance
	Total       float64
}

// connectionAllowance is the share of net primary and bracing steel that end plates, cleats, gussets and bolts add: a
// usual tender allowance, shown as its own line.
const connectionAllowance = 0.05

// basePlate is the assumed plate under a foot until its detail is designed: the section and 75 mm all round, 16 mm thick.
const (
	basePlateMargin    = 0.075
	basePlateThickness = 0.016
)

// bracingGroups are the groups that count as bracing.
var bracingGroups = map[brief.Group]bool{
	brief.GroupEavesStrut: true, brief.GroupRidgeStrut: true, brief.GroupNodeStrut: true,
	brief.GroupWallRod: true, brief.GroupRoofRod: true, brief.GroupWallDiagonal: true, brief.GroupRoofDiagonal: true, brief.GroupKneeBrace: true,
	brief.GroupPortalColumn: true, brief.GroupPortalBeam: true,
}

// Mass weighs the model with its secondaries: purlins and girts by the metre of line, joists by the metre of joist.
func (m *Model) Mass(sec SecondarySections) Mass {
	var out Mass
	m.MassIn(&out, sec)
	return out
}

// MassIn is Mass in storage that serves again: what out held is gone.
func (m *Model) MassIn(out *Mass, sec SecondarySections) {
	groups := out.Groups
	if groups == nil {
		groups = map[brief.Group]float64{}
	}
	clear(groups)
	*out = Mass{Groups: groups}
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Section == nil {
			continue
		}
		kg := mem.Length * mem.Section.Props.Mass
		g := brief.Group(mem.Group)
		out.Groups[g] += kg
		if bracingGroups[g] {
			out.Bracing += kg
		} else {
			out.Primary += kg
		}
	}
	for _, f := range m.Bases {
		out.BasePlates += basePlate(m.Structure.Members[f.Member].Section)
	}
	shares := m.Shed.SecondaryShares(m.Design.PurlinSpacing, m.Design.GirtSpacing, sec)
	for _, t := range shares {
		if t.Kilograms > 0 {
			out.Groups[t.Group] = t.Kilograms
		}
	}
	// Summed in a fixed order, so that equal designs have equal bits.
	out.Secondary, out.Openings = shares.Secondary(), shares.Openings()
	out.Connections = connectionAllowance * (out.Primary + out.Bracing)
	out.FlyBraces = m.flyBraces()
	out.Total = out.Primary + out.Bracing + out.Secondary + out.Openings + out.FlyBraces + out.BasePlates + out.Connections
}

// SecondaryShares are purlins, girts, joists, jambs and lintels, in this order.
type SecondaryShares [5]SecondaryShare

// SecondaryShare is what one group of secondaries weighs; nothing where a shed has none of it.
type SecondaryShare struct {
	Group     brief.Group
	Kilograms float64
}

// SecondaryShares weighs the secondaries of every design with these spacings of purlins and girts (m).
func (s *Shed) SecondaryShares(purlin, girt float64, sec SecondarySections) SecondaryShares {
	weigh := func(g brief.Group, length float64) SecondaryShare {
		if c := sec.Of(g); c != nil {
			return SecondaryShare{g, length * c.Props.Mass}
		}
		return SecondaryShare{g, 0}
	}
	return SecondaryShares{
		weigh(brief.GroupPurlin, s.purlins(purlin).length+s.lapLength(purlin)), weigh(brief.GroupGirt, s.girts(girt).length), weigh(brief.GroupJoist, s.joistLength()),
		{brief.GroupJamb, sec.JambMass}, {brief.GroupLintel, sec.LintelMass},
	}
}

// Secondary is the mass of purlins, girts and joists (kg).
func (s *SecondaryShares) Secondary() float64 {
	return s[0].Kilograms + s[1].Kilograms + s[2].Kilograms
}

// Openings is the mass of the framing of openings (kg).
func (s *SecondaryShares) Openings() float64 { return s[3].Kilograms + s[4].Kilograms }

// flyAngle is the mass per metre of the angle that fly braces are made of: 40x40x3EA (1.83 kg/m).
const flyAngle = 1.83

// flyBraces weighs one angle at 45 degrees for every fly brace: as long as the rafter's depth times the root of two.
func (m *Model) flyBraces() float64 {
	kg := 0.0
	for i, n := range m.flyPlaces {
		if s := m.Structure.Members[i].Section; n > 0 && !hollow(s) {
			for range n {
				kg += flyAngle * math.Sqrt2 * s.Dims.D
			}
		}
	}
	return kg
}

// SecondarySections are the purlins, girts, joists, jambs and lintels that the table of secondaries chose; nil is none.
type SecondarySections struct {
	Purlin, Girt, Joist, Jamb, Lintel *catalog.Section
	JambMass, LintelMass              float64 // kg, of all openings; small openings may have a lighter section
}

// Of returns the section of a secondary group.
func (s SecondarySections) Of(g brief.Group) *catalog.Section {
	switch g {
	case brief.GroupPurlin:
		return s.Purlin
	case brief.GroupGirt:
		return s.Girt
	case brief.GroupJoist:
		return s.Joist
	case brief.GroupJamb:
		return s.Jamb
	case brief.GroupLintel:
		return s.Lintel
	}
	return nil
}

func basePlate(sec *catalog.Section) float64 {
	if sec == nil {
		return 0
	}
	d, b := sec.Dims.D+2*basePlateMargin, max(sec.Dims.B, sec.Dims.D/2)+2*basePlateMargin
	return d * b * basePlateThickness * density
}

// lineLength is the length of all lines between their first and last support.
func lineLength(lines []line) float64 {
	sum := 0.0
	for i := range lines {
		sup := lines[i].supports
		sum += sup[len(sup)-1].u - sup[0].u
	}
	return sum
}

// lapLength is the extra length of lapped purlins over the inner frames.
func (s *Shed) lapLength(spacing float64) float64 {
	p := s.brief.Building.Secondary.Purlins
	if p.Lap == 0 {
		return 0
	}
	sum := 0.0
	for f := 1; f < len(s.Frames)-1; f++ {
		span := max(s.Frames[f]-s.Frames[f-1], s.Frames[f+1]-s.Frames[f])
		sum += max(p.Lap*span, float64(p.MinLap))
	}
	return sum * float64(len(s.purlinLines(spacing)))
}

// joistLength is the length of all joists: a line every spacing, both edges of the floor included.
func (s *Shed) joistLength() float64 {
	sum := 0.0
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		along, across := m.X1-m.X0, m.Y1-m.Y0
		if !m.JoistsAlongX {
			along, across = across, along
		}
		sum += along * (ceilTol(across/m.JoistSpacing) + 1)
	}
	return sum
}
