// Package archive names what is kept of plants: revisions of their facts, the
// plans made from them and the runs that make plans. It holds nouns and the
// errors a store answers with; the store itself is elsewhere.
package archive

import (
	"errors"
	"time"

	"lanewright/planner"
)

// What a store answers with when it can not do as asked.
var (
	ErrNotFound = errors.New("not found")
	ErrConflict = errors.New("conflict")
	// ErrUnavailable: the database can not be reached, is full or shuts down.
	ErrUnavailable = errors.New("database unavailable")
	// ErrUnsuitable: the database answers but may not be used: too old, wrong
	// encoding, or unsafe durability settings.
	ErrUnsuitable = errors.New("database unsuitable")
)

// Plant is a plant that revisions were stored for.
type Plant struct {
	Name             string
	Created          time.Time
	Revisions, Plans int
	// LatestPlan is 0 while there is no plan.
	LatestPlan int64
}

// SheetCount is the ledger of one sheet: Rows = Used + Reported + Skipped.
type SheetCount struct {
	File, Sheet                   string
	Rows, Used, Reported, Skipped int
}

// Revision is one stored set of facts. Revisions are never changed.
type Revision struct {
	Plant string
	// Number counts from 1 within the plant.
	Number int
	// Hash is plant.Revision of the facts.
	Hash                    string
	Created                 time.Time
	Sheets                  []SheetCount
	Errors, Warnings, Notes int
}

// Plan is the header of a stored plan. Plans are never changed.
type Plan struct {
	ID       int64
	Plant    string
	Revision int
	Hash     string
	Seed     uint64
	Version  string
	Created  time.Time
	Summary  planner.Summary
}

// State is the state of a run.
type State string

// States of a run: Queued -> Running -> Done, Failed or Cancelled; a queued
// run may be cancelled at once.
const (
	Queued    State = "queued"
	Running   State = "running"
	Done      State = "done"
	Failed    State = "failed"
	Cancelled State = "cancelled"
)

// Ended reports whether a run in state s will not change any more.
func (s State) Ended() bool { return s == Done || s == Failed || s == Cancelled }

// NewRun asks for a plan.
type NewRun struct {
	Plant string
	// Revision is a number, 0 for the latest.
	Revision int
	// Settings override the facts' settings, as planner.Settings.Set reads
	// them, in the order of their keys.
	Settings map[string]string
	// Key makes asking twice harmless; empty is no key.
	Key string
}

// Run is the making of one plan.
type Run struct {
	ID       string
	Plant    string
	Revision int
	Settings map[string]string
	State    State
	// Stage, Done and Total are the latest progress.
	Stage       string
	Done, Total int
	// Plan is 0 until State is Done.
	Plan int64
	// Error says why State is Failed.
	Error                      string
	Created, Started, Finished time.Time
	// Attempt counts the claims of the run; a late worker's writes carry an
	// older attempt and are refused with ErrConflict.
	Attempt int
	// Sequence rises with every change of the run.
	Sequence int64
}
