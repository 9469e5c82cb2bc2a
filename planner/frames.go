package planner

import (
	"context"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// RackFrame is a rack of a plan as it is built from its kit, with the lanes
// planned on it, and what the screening found.
type RackFrame struct {
	Rack structure.Rack
	// Frame is nil where the kit lacks a part that every rack needs, or the rack
	// type its measures.
	Frame     *structure.Frame
	Screening structure.Screening
	Findings  finding.List
}

// Frames builds and screens every rack of a plan, in the order of its racks.
// Threads change the time, never the result; those that a done context leaves out
// have no frame.
func Frames(ctx context.Context, facts *plant.Plant, p *Plan, threads int) []RackFrame {
	x := plant.NewIndex(facts)
	limits, lanes := frameLimits(p), framed(x, p)
	list := make([]RackFrame, len(p.Racks))
	each(ctx, len(p.Racks), threads, func(i int) {
		list[i] = frame(x, p.Racks[i], lanes[p.Racks[i].Rack], limits)
	})
	return list
}

// frameLimits are what the racks of a plan are screened against.
func frameLimits(p *Plan) structure.Limits {
	limits := structure.DefaultLimits()
	limits.Hand = p.Settings.Plant.HandClearance
	return limits
}

// frame builds and screens one rack.
func frame(x *plant.Index, r structure.Rack, lanes []structure.Lane, limits structure.Limits) RackFrame {
	f := RackFrame{Rack: r}
	if r.Type == nil || min(r.Type.Width, r.Type.Depth, r.Type.Height) <= 0 {
		return f
	}
	f.Frame, f.Findings = structure.Build(r.Type, x.KitOf(r.Type), lanes)
	if f.Frame != nil {
		var more finding.List
		f.Screening, more = structure.Screen(f.Frame, limits)
		f.Findings = append(f.Findings, more...)
	}
	for n := range f.Findings {
		f.Findings[n].Subject.Rack, f.Findings[n].Subject.Cell = string(r.Rack), string(r.Cell)
	}
	return f
}

// framed are the lanes of each rack as a frame takes them.
func framed(x *plant.Index, p *Plan) map[plant.RackCode][]structure.Lane {
	loops := make(map[demand.Key]*Loop, len(p.Loops))
	for i := range p.Loops {
		loops[p.Loops[i].Key] = &p.Loops[i]
	}
	lanes := map[plant.RackCode][]structure.Lane{}
	for _, l := range p.Lanes {
		lane := structure.Lane{Level: l.Level, Offset: l.Offset, Width: l.Width, Capacity: l.Capacity, Containers: l.Containers}
		if loop := loops[l.Loop]; loop != nil && !l.Empty() && x.Containers[loop.Container] != nil {
			lane.Box = box(x.Containers[loop.Container], l, loop)
		}
		lanes[l.Rack] = append(lanes[l.Rack], lane)
	}
	return lanes
}

// box is a loop's container as it lies in a lane.
func box(c *plant.Container, l placement.Lane, loop *Loop) structure.Box {
	b := structure.Box{Container: c.Container, Flow: c.Length, Across: c.Width, Height: c.Height, Gross: loop.Gross}
	if l.Side == plant.WidthAlong {
		b.Flow, b.Across = b.Across, b.Flow
	}
	return b
}
