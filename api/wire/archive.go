package wire

import (
	"time"

	"lanewright/planner/archive"
)

// Plant is a plant that revisions are stored for.
type Plant struct {
	Plant      string    `json:"plant"`
	Created    time.Time `json:"created"`
	Revisions  int       `json:"revisions"`
	Plans      int       `json:"plans"`
	LatestPlan int64     `json:"latest_plan" doc:"0 while there is no plan"`
}

// NewPlant converts a plant.
func NewPlant(p archive.Plant) Plant {
	return Plant{Plant: p.Name, Created: p.Created.UTC(), Revisions: p.Revisions, Plans: p.Plans, LatestPlan: p.LatestPlan}
}

// Sheet is the ledger of one sheet: rows = used + reported + skipped.
type Sheet struct {
	File     string `json:"file"`
	Sheet    string `json:"sheet"`
	Rows     int    `json:"rows"`
	Used     int    `json:"used"`
	Reported int    `json:"reported" doc:"rows left out, each with a finding"`
	Skipped  int    `json:"skipped" doc:"empty rows and rows that hold no fact"`
}

// NewSheets converts the ledger of an import.
func NewSheets(list []archive.SheetCount) []Sheet {
	return convert(list, func(s archive.SheetCount) Sheet { return Sheet(s) })
}

// Revision is one stored set of facts.
type Revision struct {
	Plant    string    `json:"plant"`
	Number   int       `json:"number" doc:"from 1 within the plant"`
	Revision string    `json:"revision" doc:"SHA-256 of the facts"`
	Created  time.Time `json:"created"`
	Sheets   []Sheet   `json:"sheets"`
	Errors   int       `json:"errors"`
	Warnings int       `json:"warnings"`
	Notes    int       `json:"notes"`
}

// NewRevision converts a revision.
func NewRevision(r archive.Revision) Revision {
	return Revision{
		Plant: r.Plant, Number: r.Number, Revision: r.Hash, Created: r.Created.UTC(),
		Sheets: NewSheets(r.Sheets), Errors: r.Errors, Warnings: r.Warnings, Notes: r.Notes,
	}
}

// PlanHeader is a stored plan without its lists.
type PlanHeader struct {
	ID             int64     `json:"id"`
	Plant          string    `json:"plant"`
	RevisionNumber int       `json:"revision_number"`
	Revision       string    `json:"revision" doc:"SHA-256 of the facts"`
	Seed           uint64    `json:"seed"`
	Version        string    `json:"version" doc:"version of the planner's rules"`
	Created        time.Time `json:"created"`
	Summary        Summary   `json:"summary"`
	From           int64     `json:"edited_from" doc:"id of the plan that was edited by hand to make it; 0 where the planner made it"`
	Draft          int64     `json:"draft" doc:"id of the draft in which that was done; 0 where there was none"`
}

// NewPlanHeader converts the header of a plan.
func NewPlanHeader(p archive.Plan) PlanHeader {
	return PlanHeader{
		ID: p.ID, Plant: p.Plant, RevisionNumber: p.Revision, Revision: p.Hash,
		Seed: p.Seed, Version: p.Version, Created: p.Created.UTC(), Summary: NewSummary(p.Summary),
		From: p.From, Draft: p.Draft,
	}
}

// Run is the making of one plan, or of one play of a plan.
type Run struct {
	ID         string            `json:"id"`
	Kind       string            `json:"kind" enum:"plan,simulation" doc:"whether it makes a plan or plays one"`
	Plant      string            `json:"plant"`
	Revision   int               `json:"revision" doc:"number of the revision; 0 is the latest"`
	Settings   map[string]string `json:"settings" doc:"settings that differ from the plant's own, or for a play from the plan's"`
	State      string            `json:"state" enum:"queued,running,done,failed,cancelled"`
	Stage      string            `json:"stage" doc:"what is being computed"`
	Done       int               `json:"done" doc:"steps of the stage that are done"`
	Total      int               `json:"total" doc:"steps of the stage"`
	Played     int64             `json:"played_plan" doc:"id of the plan to be played; 0 for a run that makes one"`
	Plan       int64             `json:"plan" doc:"id of the plan that was made; 0 until the run is done"`
	Simulation int64             `json:"simulation" doc:"id of the play that was made; 0 until the run is done"`
	Error      string            `json:"error" doc:"why the run failed"`
	Attempt    int               `json:"attempt" doc:"how often a worker took it up"`
	Created    time.Time         `json:"created"`
	Started    *time.Time        `json:"started"`
	Finished   *time.Time        `json:"finished"`
	Sequence   int64             `json:"sequence" doc:"rises with every change"`
}

// NewRun converts a run.
func NewRun(r archive.Run) Run {
	settings := r.Settings
	if settings == nil {
		settings = map[string]string{}
	}
	return Run{
		ID: r.ID, Kind: string(r.Kind), Plant: r.Plant, Revision: r.Revision, Settings: settings,
		State: string(r.State), Stage: r.Stage, Done: r.Done, Total: r.Total,
		Played: r.PlanID, Plan: r.Plan, Simulation: r.Simulation, Error: r.Error, Attempt: r.Attempt,
		Created: r.Created.UTC(), Started: moment(r.Started), Finished: moment(r.Finished),
		Sequence: r.Sequence,
	}
}

// moment is nil for a time that has not come.
func moment(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	t = t.UTC()
	return &t
}
