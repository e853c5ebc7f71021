// Package brief reads the one YAML file that describes a shed: what the architecture fixes, what the fabricator
// proposed, and what may vary.
//
// In: a file. Out: a Brief in SI base units with the place of every value in the file, or every mistake at once with
// file, line, column and what would be right. It knows no loads, no members and no search. The comments on the fields
// below are the descriptions in the JSON Schema; the tags are the table of ranges and defaults that the reader, its
// messages and the schema share: `range` in the file's unit, `default`, `wide` (the default when freedoms are wide),
// `need` for what must be given.
package brief

import "leanbay/catalog"

// Brief is one shed: its site, its fixed architecture, the proposal, and the freedoms. X runs along the building, Y
// across the span, Z up; the south wall is Y = 0 and the west gable X = 0, whatever the compass says.
type Brief struct {
	// Short name of the shed, used in file names and tables.
	Name string `yaml:"name" need:"yes"`
	// Title for reports.
	Title string `yaml:"title"`
	// Number and revision of the drawing that the proposal was taken from.
	Drawing string `yaml:"drawing"`
	// Free text for reports: what is assumed, what is still open.
	Notes string `yaml:"notes"`
	// Where the shed stands: wind, earthquake, snow, ground.
	Site Site `yaml:"site" need:"yes"`
	// The envelope and the frame lines.
	Building Building `yaml:"building" need:"yes"`
	// Doors and windows in the walls and gables.
	Openings []Opening `yaml:"openings"`
	// Floors inside the shed.
	Mezzanines []Mezzanine `yaml:"mezzanines"`
	// Zones that no steel may enter below a clear height: lanes, turning areas, door paths.
	Clear []ClearZone `yaml:"clear"`
	// What the fabricator drew.
	Proposal Proposal `yaml:"proposal" need:"yes"`
	// What the search may vary. The word "wide" alone opens everything that is narrow by default.
	Freedoms Freedoms `yaml:"freedoms"`
	// Deflection and stability limits.
	Limits Limits `yaml:"limits"`
	// Choices about the actions: combination factor, further combinations.
	Actions Actions `yaml:"actions"`
	// What the search minimises, and the weights of departures from the drawing.
	Objectives Objectives `yaml:"objectives"`
	// Changes under which the variants on the front are scored again.
	WhatIfs WhatIfs `yaml:"what_ifs"`
	// Further files, named relative to the brief.
	Files Files `yaml:"files"`

	file     string
	pos      map[string]Pos
	attached map[string][]byte // content of the files that the brief names, by path of the key
	library  *catalog.Library
	prices   *catalog.PriceList
}

// Site is where the shed stands.
type Site struct {
	// Wind region.
	Region Region `yaml:"region" need:"yes"`
	// State or territory, where the building code varies by state.
	State State `yaml:"state"`
	// The site lies north of the Tropic of Capricorn (Western Australia's region D varies there).
	NorthOfTropic bool `yaml:"north_of_tropic"`
	// Importance level.
	Importance int `yaml:"importance" range:"1..4" need:"yes"`
	// Terrain category; values between the categories are interpolated.
	Terrain float64 `yaml:"terrain" range:"1..4" need:"yes"`
	// Compass bearing of the X axis, clockwise from north.
	Bearing Angle `yaml:"bearing" range:"0..360" need:"yes"`
	// Regional wind speeds by recurrence in years, where the tables have none or the certifier gives their own.
	RegionalSpeed map[int]Speed `yaml:"regional_speed" range:"10..120"`
	// Shielding multiplier by direction; 1.0 where not given.
	Shielding Rose `yaml:"shielding" range:"0.7..1"`
	// Topographic multiplier by direction, where given instead of the hill's dimensions.
	Topography Rose `yaml:"topography" range:"0.5..3"`
	// Direction multiplier by direction, where given instead of the region's table.
	Direction Rose `yaml:"direction" range:"0.5..1"`
	// A hill, ridge or escarpment that speeds up the wind.
	Hill *Hill `yaml:"hill"`
	// The envelope was shown to resist wind-borne debris (regions C and D).
	DebrisRated bool `yaml:"debris_rated"`
	// Height of the site above sea level.
	Elevation Length `yaml:"elevation" range:"-10..2500"`
	// Earthquake hazard factor Z.
	Hazard float64 `yaml:"hazard" range:"0..0.6" need:"yes"`
	// Earthquake site sub-soil class.
	Soil SoilClass `yaml:"soil" need:"yes"`
	// Ground snow load; none when left out.
	Snow Snow `yaml:"snow"`
	// Allowable bearing pressure of the ground under footings; footings are not sized when left out.
	GroundBearing Pressure `yaml:"ground_bearing" range:"10..2000"`
}

// Hill is a topographic feature.
type Hill struct {
	// Height of the crest above the ground at the foot.
	Height Length `yaml:"height" range:"1..2000" need:"yes"`
	// Horizontal distance upwind from the crest to the level half-way up.
	HalfLength Length `yaml:"half_length" range:"1..10000" need:"yes"`
	// Horizontal distance from the crest to the shed.
	Distance Length `yaml:"distance" range:"0..20000"`
	// The ground beyond the crest stays high.
	Escarpment bool `yaml:"escarpment"`
	// The shed stands downwind of the crest; else upwind.
	Downwind bool `yaml:"downwind"`
}

// Snow is the ground snow.
type Snow struct {
	// Characteristic ground snow load.
	Ground Pressure `yaml:"ground" range:"0..20"`
	// Exposure factor; the code's own when left out.
	Exposure float64 `yaml:"exposure" range:"0.3..1.5"`
}

// Building is the envelope. All positions are on the frame's centre-lines.
type Building struct {
	// X of every frame line, ascending from 0; the spacing is free. Line 1 is X = 0, bay 1 lies between lines 1 and 2.
	FrameLines []Length `yaml:"frame_lines" range:"0..300" need:"yes"`
	// Distance between the column lines A (Y = 0) and B.
	Span Length `yaml:"span" range:"2..60" need:"yes"`
	// Form of the roof. A gable's ridge is at mid-span.
	Roof RoofShape `yaml:"roof" need:"yes"`
	// Which long wall is the higher one under a mono-pitch roof.
	HighSide Wall `yaml:"high_side"`
	// Height of the eaves above the floor, where the centre-lines of column and rafter meet; a mono-pitch roof's lower eaves.
	Eaves Length `yaml:"eaves" range:"1.8..20" need:"yes"`
	// Height from the eaves to the ridge, or from the lower to the higher eaves.
	Rise Length `yaml:"rise" range:"0..15" need:"yes"`
	// Walls without cladding.
	OpenSides []Wall `yaml:"open_sides"`
	// Share of the cross-section under an open roof that goods may block.
	Blocked float64 `yaml:"blocked" range:"0..1"`
	// Permanent masses, split into those that are certainly there and those that may be.
	Permanent Permanent `yaml:"permanent"`
	// Open area by leaks of each wall and the roof, where known.
	Leaks Leaks `yaml:"leaks"`
	// Purlins and girts: what stands behind the cladding.
	Secondary Secondary `yaml:"secondary"`
	// The cladding may be relied upon as a diaphragm and to hold purlins against twist.
	Diaphragm bool `yaml:"diaphragm"`
}

// Permanent is the mass that the steel carries besides its own.
type Permanent struct {
	// Roof cladding with insulation and fixings, per area of slope (certain).
	RoofCladding AreaMass `yaml:"roof_cladding" range:"0..200" default:"6"`
	// Wall cladding with fixings, per area of wall (certain).
	WallCladding AreaMass `yaml:"wall_cladding" range:"0..200" default:"6"`
	// Services hung from the roof, per plan area (possible).
	Services AreaMass `yaml:"services" range:"0..200"`
	// Solar panels, ceilings and the like, per plan area (possible).
	Panels AreaMass `yaml:"panels" range:"0..200"`
}

// Certain returns the certain permanent load of the roof in Pa of slope area.
func (p Permanent) Certain() Pressure { return p.RoofCladding.Pressure() }

// Possible returns the possible permanent load of the roof in Pa of plan area.
func (p Permanent) Possible() Pressure { return (p.Services + p.Panels).Pressure() }

// Leaks are open areas.
type Leaks struct {
	// Open area of the south wall.
	South Area `yaml:"south" range:"0..500"`
	// Open area of the north wall.
	North Area `yaml:"north" range:"0..500"`
	// Open area of the west gable.
	West Area `yaml:"west" range:"0..500"`
	// Open area of the east gable.
	East Area `yaml:"east" range:"0..500"`
	// Open area of the roof.
	Roof Area `yaml:"roof" range:"0..500"`
}

// Secondary is the choice of purlins and girts.
type Secondary struct {
	// Purlins, under the roof cladding.
	Purlins Lines `yaml:"purlins"`
	// Girts, behind the wall cladding.
	Girts Lines `yaml:"girts"`
}

// Lines are one set of purlins or girts.
type Lines struct {
	// Shape: Z or C.
	Family string `yaml:"family" oneof:"Z|C" default:"Z"`
	// Nominal depth; any depth of the stock when left out.
	Depth Size `yaml:"depth" range:"75..400"`
	// Spacings that may be chosen.
	Spacings []Length `yaml:"spacings" range:"0.4..3" default:"[0.9, 1.2, 1.5]"`
	// Length of a lap over a frame as a share of the bay (both sides together); 0 for simple spans.
	Lap float64 `yaml:"lap" range:"0..0.4" default:"0.15"`
	// Least length of a lap.
	MinLap Size `yaml:"min_lap" range:"0..3000" default:"600"`
	// They sit flush between the frames instead of on their outside.
	Flush bool `yaml:"flush"`
	// The cladding is screwed to them, which the rules for sheeted purlins ask for.
	Screwed bool `yaml:"screwed" default:"true"`
	// Most rows of bridging in a bay.
	MaxBridging int `yaml:"max_bridging" range:"0..4" default:"2"`
}

// Opening is a door or window. Its position is the edge nearest the origin: X on the long walls, Y on the gables.
type Opening struct {
	// Name on the drawing; made from wall, kind and position when left out.
	Name string `yaml:"name"`
	// Kind of opening.
	Kind OpeningKind `yaml:"kind" need:"yes"`
	// Wall or gable in which it lies.
	Wall Wall `yaml:"wall" need:"yes"`
	// Position of the edge nearest the origin: X on the south and north walls, Y on the west and east gables.
	At Length `yaml:"at" range:"0..300" need:"yes"`
	// Clear width.
	Width Length `yaml:"width" range:"0.3..30" need:"yes"`
	// Height of the lower edge above the floor; 0 for doors.
	Sill Length `yaml:"sill" range:"0..19"`
	// Clear height from sill to head; give this or head.
	Height Length `yaml:"height" range:"0.3..19"`
	// Height of the upper edge above the floor; give this or height.
	Head Length `yaml:"head" range:"0.3..20"`
	// What it can be in the design wind. When left out it counts as one that may be open.
	State DoorState `yaml:"state" default:"may be open"`
	// Sideways pull of wind locks on each jamb in the ultimate wind, from the door's maker; none when left out.
	LockPull LineForce `yaml:"lock_pull" range:"0..100"`
}

// Extent returns the stretch along the wall in metres.
func (o Opening) Extent() Range { return Range{o.At, o.At + o.Width} }

// Door says whether people or vehicles pass through it.
func (o Opening) Door() bool { return o.Kind != Window }

// Mezzanine is a rectangular floor.
type Mezzanine struct {
	// Name on the drawing.
	Name string `yaml:"name"`
	// Extent along the building, [from, to].
	X Range `yaml:"x" range:"0..300" need:"yes"`
	// Extent across the span, [from, to].
	Y Range `yaml:"y" range:"0..60" need:"yes"`
	// Height of the floor's top above the ground floor.
	Level Length `yaml:"level" range:"1.8..15" need:"yes"`
	// Use, which decides combination factors and the concentrated load.
	Use FloorUse `yaml:"use" need:"yes"`
	// Imposed load; the table's value for the use when left out.
	Imposed Pressure `yaml:"imposed" range:"0.5..50"`
	// Permanent load of floor, ceiling and services (certain), without the steel.
	Permanent Pressure `yaml:"permanent" range:"0..20" need:"yes"`
	// Movable partitions.
	Partitions Pressure `yaml:"partitions" range:"0..5"`
	// Horizontal load on the barrier along the open edges; the table's value for the use when left out.
	Barrier LineForce `yaml:"barrier" range:"0..5"`
	// Height to which goods may be stacked on a storage floor.
	StoredHeight Length `yaml:"stored_height" range:"0..6"`
	// Direction in which the joists span: X along the building, Y across it.
	Joists string `yaml:"joists" oneof:"X|Y" default:"X"`
	// Spacing of the joists.
	JoistSpacing Length `yaml:"joist_spacing" range:"0.3..2" default:"0.45"`
	// Greatest spacing of posts along a beam.
	PostSpacing Length `yaml:"post_spacing" range:"1..15" default:"6"`
	// X of the posts on the inner edge, where the architecture fixes them; else every frame line within the floor.
	PostsX []Length `yaml:"posts_x" range:"0..300"`
	// A prop of the roof may share a post's place, running through the floor.
	ShareProps bool `yaml:"share_props"`
	// A prop of the roof may stand on a beam of this floor.
	PropsOnBeams bool `yaml:"props_on_beams"`
	// The floor may be relied upon as a diaphragm.
	Diaphragm bool `yaml:"diaphragm"`
}

// ClearZone is a part of the plan that steel may not enter below a height.
type ClearZone struct {
	// Name on the drawing.
	Name string `yaml:"name" need:"yes"`
	// Extent along the building, [from, to].
	X Range `yaml:"x" range:"0..300" need:"yes"`
	// Extent across the span, [from, to].
	Y Range `yaml:"y" range:"0..60" need:"yes"`
	// Clear height above the floor.
	Height Length `yaml:"height" range:"1..20" need:"yes"`
	// Vehicles pass: a prop beside it may be hit.
	Lane bool `yaml:"lane"`
}
