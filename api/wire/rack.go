package wire

import (
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Rack is a rack that stands or is proposed.
type Rack struct {
	Rack       string   `json:"rack"`
	RackType   string   `json:"rack_type"`
	Cell       string   `json:"cell"`
	Stations   []string `json:"stations" doc:"stations it serves"`
	Proposed   bool     `json:"proposed"`
	X          *float64 `json:"x" doc:"metres; null where no coordinates are known"`
	Y          *float64 `json:"y" doc:"metres; null where no coordinates are known"`
	AislePoint string   `json:"aisle_point"`

	WidthMM     float64 `json:"width_mm"`
	DepthMM     float64 `json:"depth_mm"`
	HeightMM    float64 `json:"height_mm"`
	OwnMassKG   float64 `json:"own_mass_kg"`
	MassLimitKG float64 `json:"mass_limit_kg" doc:"loads and own mass together; 0 is no limit"`
	Cost        float64 `json:"cost" doc:"in the plant's currency; 0 where none is known"`
	Levels      []Level `json:"levels" doc:"from the lowest"`
}

// Level is one sloped surface of a rack.
type Level struct {
	Level         int       `json:"level"`
	Kind          string    `json:"kind" enum:"supply,return"`
	PickHeightMM  float64   `json:"pick_height_mm" doc:"lane surface at the pick edge"`
	LoadHeightMM  float64   `json:"load_height_mm" doc:"lane surface at the load edge"`
	LaneLengthMM  float64   `json:"lane_length_mm"`
	UsableWidthMM float64   `json:"usable_width_mm"`
	ClearHeightMM float64   `json:"clear_height_mm"`
	MassLimitKG   float64   `json:"mass_limit_kg" doc:"0 is no limit"`
	FixedMM       []float64 `json:"fixed_mm" doc:"lane widths where guides can not be moved"`
}

func newRack(r structure.Rack) Rack {
	w := Rack{
		Rack: string(r.Rack), Cell: string(r.Cell), Stations: texts(r.Stations),
		Proposed: r.Proposed, AislePoint: string(r.Point), Levels: convert(r.Levels, newLevel),
	}
	if r.Known {
		x, y := r.Place.X.Metres(), r.Place.Y.Metres()
		w.X, w.Y = &x, &y
	}
	if t := r.Type; t != nil {
		w.RackType = string(t.RackType)
		w.WidthMM, w.DepthMM, w.HeightMM = t.Width.MM(), t.Depth.MM(), t.Height.MM()
		w.OwnMassKG, w.MassLimitKG, w.Cost = t.OwnMass.KG(), t.MassLimit.KG(), t.Cost.Float64()
	}
	return w
}

func newLevel(l structure.Level) Level {
	return Level{
		Level: l.Level.Level, Kind: string(l.Kind),
		PickHeightMM: l.PickHeight.MM(), LoadHeightMM: l.LoadHeight().MM(),
		LaneLengthMM: l.LaneLength.MM(), UsableWidthMM: l.UsableWidth.MM(),
		ClearHeightMM: l.ClearHeight.MM(), MassLimitKG: l.MassLimit.KG(),
		FixedMM: convert(l.Fixed, units.Length.MM),
	}
}
