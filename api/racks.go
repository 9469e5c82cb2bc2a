package api

import (
	"context"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

type racksInput struct {
	PlanPage
	Cell     string `query:"cell" maxLength:"200" doc:"only racks of this cell"`
	Proposed bool   `query:"proposed" doc:"only racks that the plan proposes"`
}

// RackRow is a rack and how full it is.
type RackRow struct {
	wire.Rack
	LanesUsed   int `json:"lanes_used" doc:"supply lanes with a part"`
	LanesFree   int `json:"lanes_free" doc:"supply lanes without"`
	LanesReturn int `json:"lanes_return" doc:"return lanes"`
	Containers  int `json:"containers"`
}

func (s *server) listRacks(ctx context.Context, in *racksInput) (*output[wire.Page[RackRow]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, filter(v.racks, func(r RackRow) bool {
		return is(in.Cell, r.Cell) && (r.Proposed || !in.Proposed)
	}), in.PageInput)
}

// rackRows counts the lanes of each rack.
func rackRows(p *wire.Plan) []RackRow {
	rows := make([]RackRow, len(p.Racks))
	at := make(map[string]*RackRow, len(rows))
	for i, r := range p.Racks {
		rows[i].Rack = r
		at[r.Rack] = &rows[i]
	}
	for _, l := range p.Lanes {
		r := at[l.Rack]
		switch {
		case r == nil:
		case l.Kind == "return":
			r.LanesReturn++
		case l.Part == "":
			r.LanesFree++
		default:
			r.LanesUsed++
			r.Containers += l.Containers
		}
	}
	return rows
}

type lanesInput struct {
	PlanPage
	Rack string `query:"rack" maxLength:"200" doc:"only lanes of this rack"`
	Part string `query:"part" maxLength:"200" doc:"only lanes of this part"`
	Free bool   `query:"free" doc:"only supply lanes without a part"`
}

func (s *server) listLanes(ctx context.Context, in *lanesInput) (*output[wire.Page[wire.Lane]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	return page(v, filter(v.doc.Lanes, func(l wire.Lane) bool {
		return is(in.Rack, l.Rack) && is(in.Part, l.Part) && (!in.Free || l.Part == "" && l.Kind == "supply")
	}), in.PageInput)
}

// RackInput names a rack of a plan.
type RackInput struct {
	PlanInput
	Rack string `path:"rack" maxLength:"200" doc:"code of the rack"`
}

// rackPage is one rack with everything that concerns it.
type rackPage struct {
	wire.Rack
	Lanes    []wire.Lane    `json:"lanes"`
	Stops    []rackStop     `json:"stops" doc:"the routes that stop here"`
	Findings []wire.Finding `json:"findings"`
	Build    wire.Build     `json:"build" doc:"the rack as it is built from its kit: members, screening, build list, cut list, steps"`
}

type rackStop struct {
	Route string `json:"route"`
	wire.Stop
}

func (s *server) getRack(ctx context.Context, in *RackInput) (*output[rackPage], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	for _, r := range v.doc.Racks {
		if r.Rack != in.Rack {
			continue
		}
		b, err := s.build(ctx, v, planner.BuildScope{Rack: plant.RackCode(in.Rack)}, nil)
		if err != nil {
			return nil, err
		}
		p := v.rackPage(r)
		p.Build = b
		return tagged(v.tag, p), nil
	}
	return nil, missing("rack", in.Rack)
}

func (v *view) rackPage(r wire.Rack) rackPage {
	p := rackPage{
		Rack:     r,
		Lanes:    filter(v.doc.Lanes, func(l wire.Lane) bool { return l.Rack == r.Rack }),
		Stops:    []rackStop{},
		Findings: wire.NewFindings(filter(v.plan.Findings, func(f finding.Finding) bool { return f.Subject.Rack == r.Rack })),
	}
	for _, route := range v.doc.Routes {
		for _, stop := range route.Stops {
			if stop.Rack == r.Rack {
				p.Stops = append(p.Stops, rackStop{route.Route, stop})
			}
		}
	}
	return p
}
