package wire

import "lanewright/planner/placement"

// CellUse tells how evenly the supply levels of a cell are used: percent of the
// usable width that lanes with a part take, guides included.
type CellUse struct {
	Cell      string  `json:"cell"`
	Levels    int     `json:"levels"`
	Mean      float64 `json:"mean_percent"`
	Highest   float64 `json:"highest_percent"`
	HighestAt AtLevel `json:"highest_at"`
	Lowest    float64 `json:"lowest_percent"`
	LowestAt  AtLevel `json:"lowest_at"`
}

func newCellUse(u placement.Use) CellUse {
	return CellUse{
		Cell: string(u.Cell), Levels: u.Levels, Mean: percent(u.Mean),
		Highest: percent(u.Highest), HighestAt: AtLevel{string(u.HighestAt.Rack), u.HighestAt.Level}, Lowest: percent(u.Lowest), LowestAt: AtLevel{string(u.LowestAt.Rack), u.LowestAt.Level},
	}
}

// AtLevel names a level of a rack.
type AtLevel struct {
	Rack  string `json:"rack"`
	Level int    `json:"level"`
}
