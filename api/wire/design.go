package wire

import (
	"lanewright/planner"
	"lanewright/planner/structure"
)

// DesignFormat names the document of designed racks.
const DesignFormat = "lanewright.design/1"

// Design is racks made for the loops of one cell.
type Design struct {
	Format   string         `json:"format"`
	Plant    string         `json:"plant"`
	Cell     string         `json:"cell"`
	Kit      string         `json:"kit"`
	Whole    bool           `json:"whole" doc:"every loop of the cell has its place"`
	Racks    []DesignedRack `json:"racks"`
	Findings []Finding      `json:"findings"`
	Cautions []string       `json:"cautions"`
}

// DesignedRack is a rack type with the lanes for which it was made.
type DesignedRack struct {
	RackType  string         `json:"rack_type"`
	WidthMM   float64        `json:"width_mm"`
	DepthMM   float64        `json:"depth_mm"`
	HeightMM  float64        `json:"height_mm"`
	OwnMassKG float64        `json:"own_mass_kg" doc:"of its pieces; 0 where the kit does not know them all"`
	OnCasters bool           `json:"on_casters"`
	Effort    float64        `json:"effort" doc:"kg lifted per hour, weighted by height"`
	Best      bool           `json:"best" doc:"no other way of putting its loops on levels has less frontage, or the same and less effort"`
	Levels    []Level        `json:"levels" doc:"from the lowest"`
	Lanes     []DesignedLane `json:"lanes"`
}

// DesignedLane is a lane with what is to lie in it.
type DesignedLane struct {
	Level      int     `json:"level"`
	Lane       int     `json:"lane" doc:"from the left, seen from the pick side"`
	OffsetMM   float64 `json:"offset_mm" doc:"from the left end of the usable width"`
	WidthMM    float64 `json:"width_mm"`
	Part       string  `json:"part"`
	Station    string  `json:"station"`
	Container  string  `json:"container"`
	AlongMM    float64 `json:"along_mm" doc:"side of the container that runs along the lane"`
	Containers int     `json:"containers"`
	Capacity   int     `json:"capacity"`
}

// NewDesign converts racks made for a cell.
func NewDesign(plant, cell string, d planner.RackDesigns) Design {
	return Design{
		Format: DesignFormat, Plant: plant, Cell: cell, Kit: string(d.Kit.Kit), Whole: d.All,
		Racks:    convert(d.Racks, func(p structure.Proposal) DesignedRack { return newDesignedRack(d, p) }),
		Findings: NewFindings(d.Findings), Cautions: structure.Cautions(),
	}
}

func newDesignedRack(d planner.RackDesigns, p structure.Proposal) DesignedRack {
	t := p.Type
	w := DesignedRack{
		RackType: string(t.RackType), WidthMM: t.Width.MM(), DepthMM: t.Depth.MM(), HeightMM: t.Height.MM(), OwnMassKG: t.OwnMass.KG(),
		OnCasters: t.OnCasters, Effort: p.Effort, Best: p.Best, Levels: []Level{}, Lanes: []DesignedLane{},
	}
	for _, l := range t.Levels {
		w.Levels = append(w.Levels, newLevel(structure.Level{Level: l}))
	}
	for i, l := range p.Lanes {
		loop := d.Loops[p.Holds[i]]
		w.Lanes = append(w.Lanes, DesignedLane{
			Level: l.Level, Lane: p.Number(i), OffsetMM: l.Offset.MM(), WidthMM: l.Width.MM(), Part: string(loop.Part), Station: string(loop.Station),
			Container: string(loop.Container), AlongMM: l.Box.Flow.MM(), Containers: l.Containers, Capacity: l.Capacity,
		})
	}
	return w
}
