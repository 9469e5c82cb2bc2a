// Package apitest serves the tests of api, runner and web: a store in memory
// and a small made-up plant with its plan, small enough to count by hand. The
// tests of storage are on a real database.
package apitest

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"sync"
	"time"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/ticks"
)

// Store keeps plants, plans and runs in memory, as the database does.
type Store struct {
	// Down, when set, is what every method answers with.
	Down error

	mu        sync.Mutex
	now       time.Time
	revisions []revision
	plans     []plan
	played    []played
	runs      []*run
	mappings  []mapping
	ticks     []ticks.Tick
	drafts    []*draft
	drafted   int64
	published []publication
	watchers  map[chan string]bool
	// Loads counts how often a plan was loaded.
	Loads int
}

type revision struct {
	archive.Revision
	plant    *plant.Plant
	findings finding.List
}

type plan struct {
	archive.Plan
	plan *planner.Plan
}

type run struct {
	archive.Run
	key    string
	cancel bool
}

// NewStore returns an empty store.
func NewStore() *Store {
	return &Store{now: time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC), watchers: map[chan string]bool{}}
}

// lock begins a method; each one happens a second after the one before.
func (s *Store) lock() (unlock func(), err error) {
	s.mu.Lock()
	s.now = s.now.Add(time.Second)
	return s.mu.Unlock, s.Down
}

// SetDown makes every method answer with err.
func (s *Store) SetDown(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Down = err
}

// Ping answers nil unless the store is down.
func (s *Store) Ping(context.Context) error {
	unlock, err := s.lock()
	defer unlock()
	return err
}

// Plants lists plants by name.
func (s *Store) Plants(_ context.Context, after string, limit int) ([]archive.Plant, error) {
	unlock, err := s.lock()
	defer unlock()
	byName := map[string]*archive.Plant{}
	for _, r := range s.revisions {
		p := byName[r.Plant]
		if p == nil {
			p = &archive.Plant{Name: r.Plant, Created: r.Created}
			byName[r.Plant] = p
		}
		p.Revisions++
	}
	for _, x := range s.plans {
		byName[x.Plant].Plans++
		byName[x.Plant].LatestPlan = x.ID
	}
	var list []archive.Plant
	for _, name := range slices.Sorted(maps.Keys(byName)) {
		if name > after && len(list) < limit {
			list = append(list, *byName[name])
		}
	}
	return list, err
}

// Plant returns one plant.
func (s *Store) Plant(ctx context.Context, name string) (archive.Plant, error) {
	list, err := s.Plants(ctx, "", 1<<30)
	return one(list, err, "plant "+name, func(p archive.Plant) bool { return p.Name == name })
}

func one[T any](list []T, err error, what string, is func(T) bool) (none T, _ error) {
	if err != nil {
		return none, err
	}
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i], nil
	}
	return none, fmt.Errorf("%s: %w", what, archive.ErrNotFound)
}

// SaveRevision is SaveRevisionAfter whatever is there.
func (s *Store) SaveRevision(ctx context.Context, name string, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (archive.Revision, bool, error) {
	return s.SaveRevisionAfter(ctx, name, archive.AnyRevision, p, hash, sheets, findings)
}

// SaveRevisionAfter stores facts unless the latest revision has the same hash
// or is another one than after.
func (s *Store) SaveRevisionAfter(_ context.Context, name string, after int, p *plant.Plant, hash string, sheets []archive.SheetCount, findings finding.List) (archive.Revision, bool, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Revision{}, false, err
	}
	var latest archive.Revision
	for _, r := range s.revisions {
		if r.Plant == name {
			latest = r.Revision
		}
	}
	switch {
	case latest.Number > 0 && latest.Hash == hash:
		return latest, false, nil
	case after != archive.AnyRevision && after != latest.Number:
		return archive.Revision{}, false, fmt.Errorf("save revision: %w", archive.ErrStale)
	}
	r := archive.Revision{
		Plant: name, Number: latest.Number + 1, Hash: hash, Created: s.now, Sheets: sheets,
		Errors: findings.Count(finding.Error), Warnings: findings.Count(finding.Warning), Notes: findings.Count(finding.Note),
	}
	s.revisions = append(s.revisions, revision{r, p, findings})
	return r, true, nil
}

// Revisions lists the revisions of a plant by number.
func (s *Store) Revisions(ctx context.Context, name string, after, limit int) ([]archive.Revision, error) {
	if _, err := s.Plant(ctx, name); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Revision
	for _, r := range s.revisions {
		if r.Plant == name && r.Number > after && len(list) < limit {
			list = append(list, r.Revision)
		}
	}
	return list, err
}

// Revision returns one revision, the latest for 0.
func (s *Store) Revision(_ context.Context, name string, number int) (archive.Revision, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Revision{}, err
	}
	r, err := s.revision(name, number)
	return r.Revision, err
}

func (s *Store) revision(name string, number int) (revision, error) {
	for _, r := range slices.Backward(s.revisions) {
		if r.Plant == name && (number == 0 || r.Number == number) {
			return r, nil
		}
	}
	return revision{}, fmt.Errorf("revision %d of %s: %w", number, name, archive.ErrNotFound)
}

// LoadPlant returns the facts of a revision.
func (s *Store) LoadPlant(_ context.Context, name string, number int) (*plant.Plant, finding.List, archive.Revision, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return nil, nil, archive.Revision{}, err
	}
	r, err := s.revision(name, number)
	return r.plant, r.findings, r.Revision, err
}

// SavePlan stores a plan.
func (s *Store) SavePlan(_ context.Context, name string, number int, p *planner.Plan) (archive.Plan, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Plan{}, err
	}
	return s.savePlan(name, number, p), nil
}

func (s *Store) savePlan(name string, number int, p *planner.Plan) archive.Plan {
	x := archive.Plan{
		ID: int64(len(s.plans) + 1), Plant: name, Revision: number, Hash: p.Revision,
		Seed: p.Settings.Plant.Seed, Version: p.Version, Created: s.now, Summary: p.Summary(),
	}
	s.plans = append(s.plans, plan{x, p})
	if p.Proof != nil {
		s.saveSimulation(x.ID, true, p.Proof)
	}
	return x
}

// Plans lists the plans of a plant by id.
func (s *Store) Plans(ctx context.Context, name string, after int64, limit int) ([]archive.Plan, error) {
	if _, err := s.Plant(ctx, name); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Plan
	for _, x := range s.plans {
		if x.Plant == name && x.ID > after && len(list) < limit {
			list = append(list, x.Plan)
		}
	}
	return list, err
}

// Plan returns the header of a plan.
func (s *Store) Plan(_ context.Context, id int64) (archive.Plan, error) {
	unlock, err := s.lock()
	defer unlock()
	x, err := s.plan(id, err)
	return x.Plan, err
}

// LoadPlan returns a plan.
func (s *Store) LoadPlan(_ context.Context, id int64) (*planner.Plan, error) {
	unlock, err := s.lock()
	defer unlock()
	s.Loads++
	x, err := s.plan(id, err)
	return x.plan, err
}

func (s *Store) plan(id int64, err error) (plan, error) {
	return one(s.plans, err, "plan "+strconv.FormatInt(id, 10), func(x plan) bool { return x.ID == id })
}

// Runs lists the runs of a plant by id.
func (s *Store) Runs(ctx context.Context, name, after string, limit int) ([]archive.Run, error) {
	if _, err := s.Plant(ctx, name); err != nil {
		return nil, err
	}
	unlock, err := s.lock()
	defer unlock()
	var list []archive.Run
	for _, r := range s.runs {
		if r.Plant == name && cmp.Compare(r.ID, after) > 0 && len(list) < limit {
			list = append(list, r.Run)
		}
	}
	return list, err
}
