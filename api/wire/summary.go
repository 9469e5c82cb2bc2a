package wire

import "lanewright/planner"

// Summary counts and sums a plan.
type Summary struct {
	Loops              int     `json:"loops"`
	LoopsPlaced        int     `json:"loops_placed" doc:"loops with a lane for each container"`
	LanesUsed          int     `json:"lanes_used" doc:"supply lanes with a part"`
	LanesFree          int     `json:"lanes_free" doc:"supply lanes without"`
	ReturnLanes        int     `json:"return_lanes"`
	Racks              int     `json:"racks" doc:"proposed ones included"`
	RacksProposed      int     `json:"racks_proposed"`
	Containers         int     `json:"containers" doc:"of all loops"`
	ContainersUnplaced int     `json:"containers_unplaced"`
	Routes             int     `json:"routes"`
	Handlers           int     `json:"handlers"`
	Moves              int     `json:"moves"`
	MovedContainers    int     `json:"moved_containers"`
	Errors             int     `json:"errors"`
	Warnings           int     `json:"warnings"`
	Notes              int     `json:"notes"`
	PiecesPerHour      float64 `json:"pieces_per_hour"`
	ContainersPerHour  float64 `json:"containers_per_hour"`
	Effort             float64 `json:"effort" doc:"kg per net hour"`
}

// NewSummary converts a plan's summary.
func NewSummary(s planner.Summary) Summary { return Summary(s) }
