// Package archive names what is kept of plants: revisions of their facts, the
// plans made from them, the plays of plans and the runs that make both. It holds nouns and the
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

// AnyRevision stands for whatever revision is the latest.
const AnyRevision = -1

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
	// From is the plan that was edited by hand to make it, and Draft the draft it was
	// done in; both are 0 where the planner made it.
	From, Draft int64
}
