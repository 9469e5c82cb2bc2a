package storage

import (
	"fmt"
	"slices"
	"time"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
)

// editRow is an edit as a row: the fields that its kind does not need are empty.
type editRow struct {
	Kind       string
	Loop, With demand.Key
	To, From   placement.Spot
	Containers int
	Side       plant.FlowSide
	Container  plant.ContainerCode
	Pack       int64
	Interval   time.Duration
}

// planEdit is an edit of a plan; Held says that it is one of those that still count.
type planEdit struct {
	Held bool
	editRow
}

func editColumns(e *editRow) []column {
	return []column{
		{"kind", &e.Kind}, {"part", &e.Loop.Part}, {"cell", &e.Loop.Cell}, {"station", &e.Loop.Station},
		{"with_part", &e.With.Part}, {"with_cell", &e.With.Cell}, {"with_station", &e.With.Station},
		{"rack", &e.To.Rack}, {"level", &e.To.Level}, {"lane", &e.To.Lane},
		{"from_rack", &e.From.Rack}, {"from_level", &e.From.Level}, {"from_lane", &e.From.Lane},
		{"containers", &e.Containers}, {"flow_side", &e.Side}, {"container", &e.Container}, {"pack", &e.Pack}, {"interval_ns", &e.Interval},
	}
}

func planEditColumns(e *planEdit) []column {
	return append([]column{{"held", &e.Held}}, editColumns(&e.editRow)...)
}

func newEditRow(e placement.Edit) editRow {
	switch e := e.(type) {
	case placement.MoveLoop:
		return editRow{Kind: "move", Loop: e.Loop, To: e.To, From: e.From, Containers: e.Containers, Side: e.Side}
	case placement.SwapLoops:
		return editRow{Kind: "swap", Loop: e.A, With: e.B}
	case placement.PinLoop:
		return editRow{Kind: "pin", Loop: e.Loop, To: e.To}
	case placement.UnpinLoop:
		return editRow{Kind: "unpin", Loop: e.Loop}
	case placement.CloseLane:
		return editRow{Kind: "close", To: e.Lane}
	case placement.OpenLane:
		return editRow{Kind: "open", To: e.Lane}
	case placement.ChangeContainer:
		return editRow{Kind: "container", Loop: e.Loop, Container: e.Container, Pack: e.Pack}
	case placement.ChangeInterval:
		return editRow{Kind: "interval", Loop: e.Loop, Interval: e.Interval}
	}
	panic(fmt.Sprintf("storage: no row for an edit of type %T", e))
}

func (r editRow) edit() (placement.Edit, error) {
	switch r.Kind {
	case "move":
		return placement.MoveLoop{Loop: r.Loop, To: r.To, From: r.From, Containers: r.Containers, Side: r.Side}, nil
	case "swap":
		return placement.SwapLoops{A: r.Loop, B: r.With}, nil
	case "pin":
		return placement.PinLoop{Loop: r.Loop, To: r.To}, nil
	case "unpin":
		return placement.UnpinLoop{Loop: r.Loop}, nil
	case "close":
		return placement.CloseLane{Lane: r.To}, nil
	case "open":
		return placement.OpenLane{Lane: r.To}, nil
	case "container":
		return placement.ChangeContainer{Loop: r.Loop, Container: r.Container, Pack: r.Pack}, nil
	case "interval":
		return placement.ChangeInterval{Loop: r.Loop, Interval: r.Interval}, nil
	}
	return nil, fmt.Errorf("a stored edit is of kind %q, which this program does not know", r.Kind)
}

func writeEdits(w *writer, p *planner.Plan) {
	var rows []planEdit
	for _, e := range p.Edits {
		rows = append(rows, planEdit{false, newEditRow(e)})
	}
	for _, e := range p.Held {
		rows = append(rows, planEdit{true, newEditRow(e)})
	}
	write(w, "edits", planEditColumns, slices.Values(rows))
}

func readEdits(r *reader, p *planner.Plan) {
	for _, row := range read(r, "edits", planEditColumns) {
		e, err := row.edit()
		switch {
		case err != nil:
			r.err = err
		case row.Held:
			p.Held = append(p.Held, e)
		default:
			p.Edits = append(p.Edits, e)
		}
	}
}
