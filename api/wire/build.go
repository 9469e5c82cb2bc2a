package wire

import (
	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/structure"
)

// BuildFormat names the shape of Build.
const BuildFormat = "lanewright.build/1"

// Build is what racks of a plan are built from.
type Build struct {
	Format   string      `json:"format" enum:"lanewright.build/1"`
	Plant    string      `json:"plant"`
	Revision string      `json:"revision" doc:"SHA-256 of the facts"`
	Version  string      `json:"version" doc:"version of the planner's rules"`
	Racks    []RackBuild `json:"racks"`
	Buys     []Buy       `json:"buys" doc:"what they take together"`
	Total    BuyTotal    `json:"total"`
	Cuts     []CutList   `json:"cut_lists" doc:"all pieces of the racks cut together, part by part"`
	Findings []Finding   `json:"findings"`
	Cautions []string    `json:"cautions" doc:"to stand on everything that shows a rack"`
}

// RackBuild is one rack as it is built.
type RackBuild struct {
	Rack      string     `json:"rack"`
	RackType  string     `json:"rack_type"`
	Cell      string     `json:"cell"`
	Proposed  bool       `json:"proposed"`
	Kit       string     `json:"kit" doc:"empty where the kit lacks a part that every rack needs; then there is no list"`
	WidthMM   float64    `json:"width_mm" doc:"outside, as built"`
	DepthMM   float64    `json:"depth_mm"`
	HeightMM  float64    `json:"height_mm"`
	Decks     []Deck     `json:"levels" doc:"as built, from the lowest"`
	Members   []Member   `json:"members" doc:"pieces with their places"`
	Groups    []Group    `json:"groups" doc:"pieces that are made alike"`
	Buys      []Buy      `json:"buys"`
	Total     BuyTotal   `json:"total"`
	Steps     []Step     `json:"steps" doc:"assembly, in order"`
	Screening *Screening `json:"screening" doc:"null where there is no list"`
	Findings  []Finding  `json:"findings"`
}

// Deck is a level as it is built.
type Deck struct {
	Level         int     `json:"level"`
	Kind          string  `json:"kind" enum:"supply,return"`
	PickHeightMM  float64 `json:"pick_height_mm"`
	LoadHeightMM  float64 `json:"load_height_mm"`
	LaneLengthMM  float64 `json:"lane_length_mm"`
	ClearMM       float64 `json:"clear_mm" doc:"height that passes along the whole lane; 0 is nothing above"`
	PickClearMM   float64 `json:"pick_clear_mm" doc:"free height at the pick edge; 0 is nothing above"`
	RollerPitchMM float64 `json:"roller_pitch_mm"`
	Lanes         int     `json:"lanes"`
}

// Group is a number of pieces made alike.
type Group struct {
	Count    int       `json:"count"`
	Role     string    `json:"role"`
	Part     string    `json:"part"`
	LengthMM float64   `json:"length_mm"`
	HolesMM  []float64 `json:"holes_mm"`
	Marks    []string  `json:"marks"`
}

// Step is one step of assembly.
type Step struct {
	Title   string   `json:"title"`
	Text    string   `json:"text"`
	Marks   []string `json:"marks" doc:"pieces that it puts in place"`
	Caution string   `json:"caution,omitempty"`
}

// NewBuild converts what racks of a plan are built from.
func NewBuild(p *planner.Plan, b planner.Build) Build {
	return Build{
		Format: BuildFormat, Plant: p.Plant, Revision: p.Revision, Version: p.Version,
		Racks: convert(b.Racks, newRackBuild), Buys: convert(b.Buys, newBuy), Total: newBuyTotal(b.Total),
		Cuts: convert(b.Cuts, newCutList), Findings: NewFindings(b.Findings), Cautions: structure.Cautions(),
	}
}

func newRackBuild(r planner.RackBuild) RackBuild {
	w := RackBuild{
		Rack: string(r.Rack.Rack), Cell: string(r.Rack.Cell), Proposed: r.Rack.Proposed,
		Decks: []Deck{}, Members: convert(r.List.Pieces, newMember), Groups: convert(r.List.Groups, func(g buildlist.Group) Group { return newGroup(r.List, g) }),
		Buys: convert(r.List.Buys, newBuy), Total: newBuyTotal(buildlist.Sum(r.List.Buys)), Steps: convert(r.List.Steps, newStep),
		Findings: NewFindings(r.Findings),
	}
	if r.Rack.Type != nil {
		w.RackType = string(r.Rack.Type.RackType)
	}
	if f := r.Frame; f != nil {
		w.Kit, w.WidthMM, w.DepthMM, w.HeightMM = string(f.Kit.Kit), f.Width.MM(), f.Depth.MM(), f.Height.MM()
		w.Decks, w.Screening = convert(f.Decks, newDeck), newScreening(r.Screening)
	}
	return w
}

func newDeck(d structure.Deck) Deck {
	return Deck{
		Level: d.Level, Kind: string(d.Kind), PickHeightMM: d.PickHeight.MM(), LoadHeightMM: d.LoadHeight().MM(), LaneLengthMM: d.LaneLength.MM(),
		ClearMM: d.Clear.MM(), PickClearMM: d.PickClear.MM(), RollerPitchMM: d.RollerPitch.MM(), Lanes: len(d.Lanes),
	}
}

func newGroup(l buildlist.List, g buildlist.Group) Group {
	return Group{
		Count: len(g.Pieces), Role: string(g.Role), Part: string(g.Part.Part), LengthMM: g.Length.MM(),
		HolesMM: convert(g.Holes, func(h buildlist.Hole) float64 { return h.At.MM() }), Marks: l.Marks(g),
	}
}

func newStep(s buildlist.Step) Step {
	return Step{Title: s.Title, Text: s.Text, Marks: texts(s.Marks), Caution: s.Caution}
}
