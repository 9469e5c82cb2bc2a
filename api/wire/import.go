package wire

import "lanewright/planner/plant"

// Import reports what became of a file that was handed in.
type Import struct {
	Plant          string `json:"plant"`
	DryRun         bool   `json:"dry_run"`
	Stored         bool   `json:"stored" doc:"false for a dry run and where the facts were there already"`
	Revision       string `json:"revision" doc:"SHA-256 of the facts"`
	RevisionNumber int    `json:"revision_number" doc:"0 for a dry run"`
	// Sheets is the ledger: nothing of a file is lost without being counted.
	Sheets   []Sheet   `json:"sheets"`
	Facts    Facts     `json:"facts"`
	Errors   int       `json:"errors"`
	Warnings int       `json:"warnings"`
	Notes    int       `json:"notes"`
	Findings []Finding `json:"findings"`
}

// Facts counts what a revision holds.
type Facts struct {
	Parts      int `json:"parts"`
	Containers int `json:"containers"`
	Products   int `json:"products"`
	Usage      int `json:"usage"`
	Cells      int `json:"cells"`
	Stations   int `json:"stations"`
	RackTypes  int `json:"rack_types"`
	Racks      int `json:"racks"`
	Points     int `json:"points"`
	Aisles     int `json:"aisles"`
	Vehicles   int `json:"vehicles"`
	Shifts     int `json:"shifts"`
}

// CountFacts counts the facts of a plant.
func CountFacts(p *plant.Plant) Facts {
	return Facts{
		Parts: len(p.Parts), Containers: len(p.Containers), Products: len(p.Products), Usage: len(p.Usage),
		Cells: len(p.Cells), Stations: len(p.Stations), RackTypes: len(p.RackTypes), Racks: len(p.Racks),
		Points: len(p.AislePoints), Aisles: len(p.Aisles), Vehicles: len(p.Vehicles), Shifts: len(p.Shifts),
	}
}
