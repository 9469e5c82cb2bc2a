package wire

import (
	"lanewright/planner"
	"lanewright/planner/plant"
)

// ReliefsFormat names the shape of Reliefs, as Format does that of Plan.
const ReliefsFormat = "lanewright.reliefs/1"

// Reliefs says what would make room in cells of a plan.
type Reliefs struct {
	Format   string        `json:"format" enum:"lanewright.reliefs/1"`
	Plant    string        `json:"plant"`
	Revision string        `json:"revision" doc:"SHA-256 of the facts"`
	Seed     uint64        `json:"seed"`
	Version  string        `json:"version" doc:"version of the planner's rules"`
	Cells    []CellReliefs `json:"cells"`
}

// CellReliefs are the reliefs of one cell, the best first.
type CellReliefs struct {
	Cell     string   `json:"cell"`
	Unplaced int      `json:"unplaced" doc:"containers without a lane in the plan"`
	Reliefs  []Relief `json:"reliefs"`
}

// Relief is a change that makes room in a cell, computed by sizing and placing the
// cell anew.
type Relief struct {
	Kind           string    `json:"kind" enum:"interval,container,rack-type,level,other-rack,rack,pin,pair" doc:"pair is two of the others together"`
	Text           string    `json:"text" doc:"what to do, a sentence"`
	Note           string    `json:"note" doc:"what else it means; empty where there is nothing more to say"`
	Loops          []LoopKey `json:"loops" doc:"the loops it touches; none where it is about a rack"`
	UnplacedBefore int       `json:"unplaced_before" doc:"containers without a lane as it is"`
	Unplaced       int       `json:"unplaced" doc:"containers without a lane with the change"`
	LanesFreed     int       `json:"lanes_freed" doc:"lanes that the cell's loops need less"`
	Effort         float64   `json:"effort" doc:"kg per net hour more"`
	Price          *float64  `json:"price" doc:"of the racks to buy; null where the sheets do not give it"`
	Yearly         float64   `json:"yearly" doc:"more for racks, floor and stock in a year, in the plant's currency"`
	YearlyPartial  bool      `json:"yearly_partial" doc:"a price is missing"`
	VisitsPerHour  float64   `json:"visits_per_hour" doc:"rack visits more, estimated from the intervals"`
	RefillsPerHour float64   `json:"refills_per_hour" doc:"full containers more"`

	Edits []EditRequest `json:"edits" doc:"make it in a draft, and lay what has no lane; none where only other facts can make it, such as other racks"`
}

// NewReliefs converts what was found for cells of a plan.
func NewReliefs(p *planner.Plan, cells []CellReliefs) *Reliefs {
	return &Reliefs{
		Format: ReliefsFormat, Plant: p.Plant, Revision: p.Revision, Seed: p.Settings.Plant.Seed, Version: p.Version,
		Cells: convert(cells, func(c CellReliefs) CellReliefs { return c }),
	}
}

// NewCellReliefs converts the reliefs of one cell.
func NewCellReliefs(p *planner.Plan, cell plant.CellCode, list []planner.Relief) CellReliefs {
	c := CellReliefs{Cell: string(cell), Reliefs: convert(list, newRelief)}
	for _, b := range p.Cells {
		if b.Cell == cell {
			c.Unplaced = b.Unplaced
		}
	}
	return c
}

func newRelief(r planner.Relief) Relief {
	out := Relief{
		Kind: string(r.Kind), Text: r.Text, Note: r.Note, UnplacedBefore: r.UnplacedBefore, Unplaced: r.Unplaced,
		LanesFreed: r.LanesFreed, Effort: r.Effort, Yearly: r.Yearly.Float64(), YearlyPartial: r.YearlyPartial,
		VisitsPerHour: r.Visits.Float64(), RefillsPerHour: r.Refills.Float64(), Loops: convert(r.Loops, newLoopKey), Edits: convert(r.Edits, NewEditRequest),
	}
	if r.PriceKnown {
		price := r.Price.Float64()
		out.Price = &price
	}
	return out
}
