package brief

// Proposal is what the fabricator drew.
type Proposal struct {
	// Section of each group of members that the drawing shows. Secondaries may be left out: their table then gives the lightest that passes.
	Sections map[Group]Steel `yaml:"sections" need:"yes"`
	// Spacing of the purlins; the first allowed spacing when left out.
	PurlinSpacing Length `yaml:"purlin_spacing" range:"0.4..3"`
	// Spacing of the girts; the first allowed spacing when left out.
	GirtSpacing Length `yaml:"girt_spacing" range:"0.4..3"`
	// Inner columns under rafters.
	Props []Prop `yaml:"props"`
	// Gable columns.
	Mullions Mullions `yaml:"mullions"`
	// Wall bracing, panel by panel. A wall that is not named has none.
	WallBracing []WallPanel `yaml:"wall_bracing"`
	// Roof bracing, bay by bay.
	RoofBracing []RoofPanel `yaml:"roof_bracing"`
	// Y at which the roof bracing meets the rafters between the eaves; the ridge and the quarter points when left out.
	RoofNodes []Length `yaml:"roof_nodes" range:"0..60"`
	// Struts along the building.
	Struts Struts `yaml:"struts"`
	// How the feet are held.
	Bases Bases `yaml:"bases"`
	// Rotational stiffness of the frame's joints.
	Joints Joints `yaml:"joints"`
	// A fly brace at every n-th purlin and girt of open-section frames; 0 for none.
	FlyBraces int `yaml:"fly_braces" range:"0..10"`
	// Connection details that the drawing states. A joint without one is assumed or to be designed, and reported so.
	Details Details `yaml:"details"`
}

// Steel is a section with its grade. In the file it is a designation alone, or a mapping with section and grade.
type Steel struct {
	// Designation in the catalogue or the brief's own list, such as 200x100x5.0RHS.
	Section string `yaml:"section" need:"yes"`
	// Grade, such as C450L0; the section's first grade when left out.
	Grade string `yaml:"grade"`
	// The section is turned: its depth lies along the building instead of across it (in a gable, across instead of along).
	Turned bool `yaml:"turned"`
	// Side to which a channel's toes point: in, towards the middle of the building, or out.
	Toes string `yaml:"toes" oneof:"in|out" default:"in"`
}

// Prop is one inner column.
type Prop struct {
	// Number of its frame line, from 1 at X = 0; give this or x.
	Line int `yaml:"line" range:"1..200"`
	// X of its frame line; give this or line.
	X Length `yaml:"x" range:"0..300"`
	// Distance from the south column line.
	Y Length `yaml:"y" range:"0..60" need:"yes"`
	// It stands on a mezzanine beam instead of the ground.
	OnBeam bool `yaml:"on_beam"`
}

// Mullions are the gable columns.
type Mullions struct {
	// Y of each mullion in the west gable.
	West []Length `yaml:"west" range:"0..60"`
	// Y of each mullion in the east gable.
	East []Length `yaml:"east" range:"0..60"`
	// The mullions carry the end rafters; else their tops slip vertically.
	Carry bool `yaml:"carry"`
}

// WallPanel is the bracing of one bay of a wall, or of one stretch of a gable.
type WallPanel struct {
	// Wall or gable that is braced.
	Wall Wall `yaml:"wall" need:"yes"`
	// Bay, numbered by its lower frame line from 1; in a gable, the stretch between columns and mullions, from 1 at Y = 0.
	Bay int `yaml:"bay" range:"1..200" need:"yes"`
	// Pattern of bracing in the panel.
	Pattern Pattern `yaml:"pattern" need:"yes"`
	// Lower end of the panel above the floor.
	From Length `yaml:"from" range:"0..20"`
	// Upper end of the panel above the floor; the eaves when left out.
	To Length `yaml:"to" range:"0..20"`
	// For one diagonal: the end to which it rises.
	Rises Wall `yaml:"rises"`
}

// RoofPanel is the bracing of one bay of the roof, over the whole span.
type RoofPanel struct {
	// Bay, numbered by its lower frame line from 1.
	Bay int `yaml:"bay" range:"1..200" need:"yes"`
	// Pattern of bracing over the bay.
	Pattern Pattern `yaml:"pattern" need:"yes"`
}

// Struts run along the building from end to end.
type Struts struct {
	// Struts along both eaves.
	Eaves bool `yaml:"eaves"`
	// A strut along the ridge.
	Ridge bool `yaml:"ridge"`
	// Struts at the other nodes of the roof bracing.
	Nodes bool `yaml:"nodes"`
}

// Bases say how the feet are held. In the file each is a word (pinned, fixed), or a mapping with kind and stiffness.
type Bases struct {
	// Feet of the frame columns.
	Columns Base `yaml:"columns"`
	// Feet of the props.
	Props Base `yaml:"props"`
	// Feet of the mullions.
	Mullions Base `yaml:"mullions"`
	// Feet of the mezzanine posts.
	Posts Base `yaml:"posts"`
	// Rotational spring of pinned column bases that may count for sway in service only; 0 for none.
	ServiceSpring RotationalStiffness `yaml:"service_spring" range:"0..1e6"`
}

// Base is how one kind of foot is held.
type Base struct {
	// Pinned, fixed, or a rotational spring.
	Kind BaseKind `yaml:"kind" default:"pinned"`
	// Rotational stiffness of a spring base.
	Stiffness RotationalStiffness `yaml:"stiffness" range:"0..1e6"`
}

// Joints are the rotational stiffnesses of the frame's joints; 0 is rigid.
type Joints struct {
	// Between column and rafter.
	Eaves RotationalStiffness `yaml:"eaves" range:"0..1e7"`
	// Between the rafters at the ridge.
	Ridge RotationalStiffness `yaml:"ridge" range:"0..1e7"`
}

// Details are the connections that the drawing states, by place.
type Details struct {
	// Column to rafter.
	Eaves *Detail `yaml:"eaves"`
	// Rafter to rafter.
	Ridge *Detail `yaml:"ridge"`
	// Prop to rafter.
	PropCap *Detail `yaml:"prop_cap"`
	// Mezzanine beam to column or post.
	BeamEnd *Detail `yaml:"beam_end"`
	// Joist to beam.
	JoistEnd *Detail `yaml:"joist_end"`
	// Mullion to end rafter.
	MullionTop *Detail `yaml:"mullion_top"`
	// Strut to frame.
	StrutEnd *Detail `yaml:"strut_end"`
	// Rod or diagonal to frame, in the walls.
	WallBraceEnd *Detail `yaml:"wall_brace_end"`
	// Rod or diagonal to frame, in the roof.
	RoofBraceEnd *Detail `yaml:"roof_brace_end"`
	// Foot of a frame column.
	ColumnBase *Detail `yaml:"column_base"`
	// Foot of a prop.
	PropBase *Detail `yaml:"prop_base"`
	// Foot of a mullion.
	MullionBase *Detail `yaml:"mullion_base"`
	// Foot of a mezzanine post.
	PostBase *Detail `yaml:"post_base"`
}

// Detail is one connection: plate, bolts, weld, and for a base its concrete.
type Detail struct {
	// Kind of connection.
	Kind string `yaml:"kind" oneof:"end plate|cap plate|cleat|base plate|rod end" need:"yes"`
	// End plate, cap plate, cleat or base plate.
	Plate Plate `yaml:"plate"`
	// Bolts through the plate.
	Bolts Bolts `yaml:"bolts"`
	// Weld of the section to the plate.
	Weld Weld `yaml:"weld"`
	// Distance from the member's centroid to the line of the bolts, or of the brace.
	Eccentricity Size `yaml:"eccentricity" range:"0..1000"`
	// The rod has a turnbuckle.
	Turnbuckle bool `yaml:"turnbuckle"`
	// Concrete under a base.
	Pad Pad `yaml:"pad"`
}

// Plate is a rectangular plate.
type Plate struct {
	// Thickness.
	Thickness Size `yaml:"thickness" range:"3..100"`
	// Width, across the section.
	Width Size `yaml:"width" range:"30..2000"`
	// Depth, along the section's web.
	Depth Size `yaml:"depth" range:"30..3000"`
	// Grade by its yield.
	Yield Stress `yaml:"yield" range:"200..500" default:"250"`
}

// Bolts is a rectangular group of bolts.
type Bolts struct {
	// Diameter.
	Diameter Size `yaml:"diameter" range:"8..48"`
	// Property class and tightening category.
	Class string `yaml:"class" oneof:"4.6/S|8.8/S|8.8/TB|8.8/TF" default:"8.8/S"`
	// Rows along the section's web.
	Rows int `yaml:"rows" range:"0..20"`
	// Bolts in a row.
	PerRow int `yaml:"per_row" range:"0..8" default:"2"`
	// Distance between the bolts of a row.
	Gauge Size `yaml:"gauge" range:"20..1000"`
	// Distance between rows.
	Pitch Size `yaml:"pitch" range:"20..1000"`
	// Distance from the outer bolts to the plate's edge.
	Edge Size `yaml:"edge" range:"10..300"`
	// Embedment of hold-down bolts in concrete.
	Embedment Size `yaml:"embedment" range:"0..2000"`
}

// Weld is the weld of a section to its plate.
type Weld struct {
	// Fillet or complete penetration butt weld.
	Kind string `yaml:"kind" oneof:"fillet|butt" default:"fillet"`
	// Leg length of a fillet.
	Leg Size `yaml:"leg" range:"0..25"`
	// Quality category.
	Quality string `yaml:"quality" oneof:"GP|SP" default:"SP"`
}

// Pad is a concrete footing.
type Pad struct {
	// Extent along X.
	Length Length `yaml:"length" range:"0..10"`
	// Extent along Y.
	Width Length `yaml:"width" range:"0..10"`
	// Depth of the concrete, along Z.
	Depth Length `yaml:"depth" range:"0..5"`
	// Characteristic compressive strength of the concrete.
	Strength Stress `yaml:"strength" range:"15..100" default:"25"`
}
