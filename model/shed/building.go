package shed

import (
	"fmt"

	"leanbay/model/actions"
	"leanbay/model/brief"
)

// faces maps the brief's walls to faces.
var faces = map[brief.Wall]actions.Face{
	brief.South: actions.SouthWall, brief.North: actions.NorthWall, brief.West: actions.WestGable, brief.East: actions.EastGable,
}

// doorStates maps the brief's words to those of the actions.
var doorStates = map[brief.DoorState]actions.DoorState{
	brief.StaysShut: actions.StaysShut, brief.MayBeOpen: actions.MayBeOpen, brief.MayFail: actions.MayFail,
}

// Building and Site turn a brief into the plain numbers that an actions pack reads (m, Pa, rad).
func Building(b *brief.Brief) (*actions.Building, *actions.Site, error) {
	bl := &actions.Building{
		FrameLines:  metres(b.Building.FrameLines),
		Span:        float64(b.Building.Span),
		EavesSouth:  float64(b.Building.EavesAt(brief.South)),
		EavesNorth:  float64(b.Building.EavesAt(brief.North)),
		Ridge:       float64(b.Building.RidgeZ()),
		RidgeY:      float64(b.Building.RidgeY()),
		Shape:       actions.RoofShape(b.Building.Roof),
		RoofDead:    float64(b.Building.Permanent.Certain()),
		RoofExtra:   float64(b.Building.Permanent.Possible()),
		WallDead:    float64(b.Building.Permanent.WallCladding.Pressure()),
		GroundSnow:  float64(b.Site.Snow.Ground),
		SnowExposed: b.Site.Snow.Exposure,
	}
	for _, w := range b.Building.OpenSides {
		bl.OpenFaces = append(bl.OpenFaces, faces[w])
	}
	for _, o := range b.Openings {
		e := o.Extent()
		bl.Openings = append(bl.Openings, actions.Opening{
			Name: openingName(o), Face: faces[o.Wall], Door: o.Door(), State: doorStates[o.State],
			U0: float64(e[0]), U1: float64(e[1]), V0: float64(o.Sill), V1: float64(o.Head), LockPull: float64(o.LockPull),
		})
	}
	for i, m := range b.Mezzanines {
		bl.Floors = append(bl.Floors, actions.Floor{
			Name: floorName(m, i), X0: float64(m.X[0]), X1: float64(m.X[1]), Y0: float64(m.Y[0]), Y1: float64(m.Y[1]),
			Level: float64(m.Level), Use: string(m.Use), Imposed: float64(m.Imposed), Permanent: float64(m.Permanent + m.Partitions), StoredHeight: float64(m.StoredHeight),
		})
	}
	leaks := b.Building.Leaks
	for f, a := range map[actions.Face]brief.Area{
		actions.SouthWall: leaks.South, actions.NorthWall: leaks.North, actions.WestGable: leaks.West, actions.EastGable: leaks.East, actions.SouthRoof: leaks.Roof,
	} {
		bl.OpenAreas[f] = float64(a)
	}
	site := &actions.Site{
		Region: string(b.Site.Region), ImportanceLevel: b.Site.Importance, State: string(b.Site.State), Terrain: b.Site.Terrain,
		BearingX: float64(b.Site.Bearing), Shielding: b.Site.Shielding, Topographic: b.Site.Topography, Direction: b.Site.Direction,
		HazardFactor: b.Site.Hazard, SoilClass: string(b.Site.Soil), Elevation: float64(b.Site.Elevation),
		NorthOfTropic: b.Site.NorthOfTropic, DebrisRated: b.Site.DebrisRated,
	}
	if len(b.Site.RegionalSpeed) > 0 {
		site.RegionalSpeed = map[int]float64{}
		for r, v := range b.Site.RegionalSpeed {
			site.RegionalSpeed[r] = float64(v)
		}
	}
	if h := b.Site.Hill; h != nil {
		site.Hill = &actions.Hill{Height: float64(h.Height), UpwindHalf: float64(h.HalfLength), Distance: float64(h.Distance), Escarpment: h.Escarpment, Downwind: h.Downwind}
	}
	return bl, site, nil
}

func metres(ls []brief.Length) []float64 {
	out := make([]float64, len(ls))
	for i, l := range ls {
		out[i] = float64(l)
	}
	return out
}

// axisOf names the coordinate along a wall.
func axisOf(w brief.Wall) string {
	if w.Long() {
		return "X"
	}
	return "Y"
}

// openingName is the opening's own name, or one made from what it is and where.
func openingName(o brief.Opening) string {
	if o.Name != "" {
		return o.Name
	}
	e := o.Extent()
	return fmt.Sprintf("%s %s at %s %.1f-%.1f", o.Wall, o.Kind, axisOf(o.Wall), float64(e[0]), float64(e[1]))
}

func floorName(m brief.Mezzanine, i int) string {
	if m.Name != "" {
		return m.Name
	}
	return fmt.Sprintf("mezzanine %d", i+1)
}
