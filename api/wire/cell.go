package wire

import (
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// Cell is one cell of a plan at a glance.
type Cell struct {
	Cell     string   `json:"cell"`
	Name     string   `json:"name"`
	Area     string   `json:"area"`
	Stations int      `json:"stations"`
	Routes   []string `json:"routes" doc:"routes that stop at its racks"`

	Racks              int     `json:"racks" doc:"proposed ones included"`
	RacksProposed      int     `json:"racks_proposed"`
	FrontageMM         float64 `json:"frontage_mm" doc:"width of its racks"`
	FrontageLimitMM    float64 `json:"frontage_limit_mm" doc:"0 is no limit"`
	Loops              int     `json:"loops"`
	LoopsPlaced        int     `json:"loops_placed"`
	Containers         int     `json:"containers"`
	ContainersUnplaced int     `json:"containers_unplaced"`

	LanesNeeded int `json:"lanes_needed" doc:"supply lanes its loops need, placed or not"`
	LanesThere  int `json:"lanes_there" doc:"supply lanes of its racks, with a part or free"`
	LanesUsed   int `json:"lanes_used" doc:"supply lanes with a part"`
	LanesFree   int `json:"lanes_free" doc:"supply lanes without"`
	LanesShort  int `json:"lanes_short" doc:"lanes needed and not given, summed over width classes"`

	Balance  []Balance `json:"balance" doc:"by lane width"`
	Bound    CellBound `json:"bound"`
	Errors   int       `json:"errors" doc:"findings about the cell"`
	Warnings int       `json:"warnings" doc:"findings about the cell"`
	Notes    int       `json:"notes" doc:"findings about the cell"`
}

// NewCells gathers a plan by cell, in the order of the plant's sheet. Names and
// limits come from the facts the plan was made from.
func NewCells(facts *plant.Plant, p *planner.Plan) []Cell {
	cells := make([]Cell, len(facts.Cells))
	at := make(map[plant.CellCode]*Cell, len(cells))
	for i, c := range facts.Cells {
		cells[i] = Cell{
			Cell: string(c.Cell), Name: c.Name, Area: c.Area,
			FrontageLimitMM: c.Frontage.MM(), Routes: []string{}, Balance: []Balance{},
		}
		at[c.Cell] = &cells[i]
	}
	g := gather{facts: facts, plan: p, at: at}
	g.racks()
	g.loops()
	g.balance()
	g.findings()
	return cells
}

// gather adds up a plan, cell by cell. A code that is no cell of the facts is
// counted nowhere.
type gather struct {
	facts *plant.Plant
	plan  *planner.Plan
	at    map[plant.CellCode]*Cell
}

// cell returns the cell of a code, or one to throw away.
func (g gather) cell(code plant.CellCode) *Cell {
	if c := g.at[code]; c != nil {
		return c
	}
	return &Cell{}
}

func (g gather) racks() {
	of := make(map[plant.RackCode]*Cell, len(g.plan.Racks))
	for _, r := range g.plan.Racks {
		c := g.cell(r.Cell)
		of[r.Rack] = c
		c.Racks++
		if r.Proposed {
			c.RacksProposed++
		}
		if r.Type != nil {
			c.FrontageMM += r.Type.Width.MM()
		}
	}
	for _, l := range g.plan.Lanes {
		if c := of[l.Rack]; c != nil && l.Kind == plant.Supply {
			c.addLane(l)
		}
	}
	for _, r := range g.plan.Routes {
		for _, s := range r.Stops {
			if c := of[s.Rack]; c != nil && (len(c.Routes) == 0 || c.Routes[len(c.Routes)-1] != r.Route) {
				c.Routes = append(c.Routes, r.Route)
			}
		}
	}
}

func (c *Cell) addLane(l placement.Lane) {
	c.LanesThere++
	if l.Empty() {
		c.LanesFree++
	} else {
		c.LanesUsed++
	}
}

func (g gather) loops() {
	for _, s := range g.facts.Stations {
		g.cell(s.Cell).Stations++
	}
	for _, l := range g.plan.Loops {
		c := g.cell(l.Cell)
		c.Loops++
		c.LoopsPlaced++
		c.Containers += l.Containers
	}
	for _, u := range g.plan.Unplaced {
		c := g.cell(u.Loop.Cell)
		c.LoopsPlaced--
		c.ContainersUnplaced += u.Containers
	}
}

func (g gather) balance() {
	for _, b := range g.plan.Balance {
		c := g.cell(b.Cell)
		c.LanesNeeded += b.Needed
		c.LanesShort += max(0, b.Needed-b.Placed)
		c.Balance = append(c.Balance, newBalance(b))
	}
	for _, b := range g.plan.Cells {
		g.cell(b.Cell).Bound = newCellBound(b)
	}
}

func (g gather) findings() {
	home := RackCells(g.plan)
	for _, f := range g.plan.Findings {
		c := g.cell(plant.CellCode(FindingCell(f, home)))
		switch f.Severity {
		case finding.Error:
			c.Errors++
		case finding.Warning:
			c.Warnings++
		default:
			c.Notes++
		}
	}
}

// RackCells tells the cell of each rack.
func RackCells(p *planner.Plan) map[string]string {
	home := make(map[string]string, len(p.Racks))
	for _, r := range p.Racks {
		home[string(r.Rack)] = string(r.Cell)
	}
	return home
}

// FindingCell is the cell that f is about: the one it names, else the one its
// rack stands at; empty where it is about neither.
func FindingCell(f finding.Finding, home map[string]string) string {
	if f.Subject.Cell != "" {
		return f.Subject.Cell
	}
	return home[f.Subject.Rack]
}
