package wire

import (
	"lanewright/planner"
	"lanewright/planner/simulation"
)

// PlayedFormat names the shape of Played, as Format does that of Plan.
const PlayedFormat = "lanewright.play/1"

// Played is a play of a plan that is not stored: what was played and everything
// that was measured.
type Played struct {
	Format    string    `json:"format" enum:"lanewright.play/1"`
	Plant     string    `json:"plant"`
	Revision  string    `json:"revision" doc:"SHA-256 of the facts"`
	Seed      uint64    `json:"seed"`
	Version   string    `json:"version" doc:"version of the planner's rules"`
	PlayedMin float64   `json:"played_min" doc:"net minutes that counted, over all replications, of the cell that works longest"`
	Events    int64     `json:"events" doc:"containers opened, signals collected, containers delivered, rounds and stops"`
	Pieces    int64     `json:"pieces" doc:"pieces used"`
	Proof     *Proof    `json:"proof"`
	Findings  []Finding `json:"findings"`
}

// NewPlayed converts a play of p.
func NewPlayed(p *planner.Plan, r simulation.Result) *Played {
	return &Played{
		Format: PlayedFormat, Plant: p.Plant, Revision: p.Revision, Seed: r.Seed, Version: p.Version,
		PlayedMin: minutes(r.Played), Events: r.Events, Pieces: r.Pieces, Proof: newProof(&r), Findings: NewFindings(r.Findings),
	}
}
