package apitest

import (
	"context"
	"fmt"
	"maps"
	"time"

	"lanewright/planner/archive"
)

// CreateRun queues a run.
func (s *Store) CreateRun(_ context.Context, n archive.NewRun) (archive.Run, bool, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Run{}, false, err
	}
	if n.Kind == "" {
		n.Kind = archive.PlanRun
	}
	if n.Kind == archive.SimulationRun {
		p, err := s.plan(n.PlanID, nil)
		if err != nil {
			return archive.Run{}, false, err
		}
		n.Plant, n.Revision = p.Plant, p.Revision
	}
	rev, err := s.revision(n.Plant, n.Revision)
	if err != nil {
		return archive.Run{}, false, err
	}
	for _, r := range s.runs {
		if n.Key == "" || r.key != n.Key || r.Plant != n.Plant {
			continue
		}
		if r.Kind != n.Kind || r.PlanID != n.PlanID || !maps.Equal(r.Settings, n.Settings) {
			return archive.Run{}, false, fmt.Errorf("run with this key: %w", archive.ErrConflict)
		}
		return r.Run, false, nil
	}
	r := &run{key: n.Key, Run: archive.Run{
		ID: fmt.Sprintf("run-%03d", len(s.runs)+1), Kind: n.Kind, Plant: n.Plant, Revision: rev.Number, PlanID: n.PlanID, Settings: n.Settings,
		State: archive.Queued, Created: s.now,
	}}
	s.runs = append(s.runs, r)
	s.changed(r)
	return r.Run, true, nil
}

// Run returns one run.
func (s *Store) Run(_ context.Context, id string) (archive.Run, error) {
	unlock, err := s.lock()
	defer unlock()
	r, err := one(s.runs, err, "run "+id, func(r *run) bool { return r.ID == id })
	if err != nil {
		return archive.Run{}, err
	}
	return r.Run, nil
}

// CancelRun asks a run to stop; a queued one is cancelled at once, one that
// has ended stays as it is.
func (s *Store) CancelRun(_ context.Context, id string) (archive.Run, error) {
	unlock, err := s.lock()
	defer unlock()
	r, err := one(s.runs, err, "run "+id, func(r *run) bool { return r.ID == id })
	if err != nil {
		return archive.Run{}, err
	}
	if r.State.Ended() {
		return r.Run, nil
	}
	if r.State == archive.Queued {
		r.State, r.Finished = archive.Cancelled, s.now
	}
	r.cancel = true
	s.changed(r)
	return r.Run, nil
}

// ClaimRun takes the oldest run that is queued; a lease never passes by itself
// here.
func (s *Store) ClaimRun(context.Context, string, time.Duration) (archive.Run, bool, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return archive.Run{}, false, err
	}
	for _, r := range s.runs {
		if r.State == archive.Queued {
			r.State, r.Started = archive.Running, s.now
			r.Attempt++
			s.changed(r)
			return r.Run, true, nil
		}
	}
	return archive.Run{}, false, nil
}

// held returns a run that is still the attempt's.
func (s *Store) held(id string, attempt int, err error) (*run, error) {
	r, err := one(s.runs, err, "run "+id, func(r *run) bool { return r.ID == id })
	if err != nil {
		return nil, err
	}
	if r.Attempt != attempt || r.State != archive.Running {
		return nil, fmt.Errorf("run %s is no longer held: %w", id, archive.ErrConflict)
	}
	return r, nil
}

// Take gives a running run to another worker, as when its lease has passed.
func (s *Store) Take(id string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, r := range s.runs {
		if r.ID == id {
			r.Attempt++
		}
	}
}

// ReportRun stores progress.
func (s *Store) ReportRun(_ context.Context, id string, attempt int, stage string, done, total int, _ time.Duration) (bool, error) {
	unlock, err := s.lock()
	defer unlock()
	r, err := s.held(id, attempt, err)
	if err != nil {
		return false, err
	}
	r.Stage, r.Done, r.Total = stage, done, total
	s.changed(r)
	return r.cancel, nil
}

// ReleaseRun hands a run back.
func (s *Store) ReleaseRun(_ context.Context, id string, attempt int) error {
	unlock, err := s.lock()
	defer unlock()
	r, err := s.held(id, attempt, err)
	if err != nil {
		return err
	}
	r.State, r.Stage, r.Done, r.Total = archive.Queued, "", 0, 0
	s.changed(r)
	return nil
}

// FinishRun ends a run.
func (s *Store) FinishRun(_ context.Context, id string, attempt int, made archive.Made, state archive.State, message string) (archive.Run, error) {
	unlock, err := s.lock()
	defer unlock()
	r, err := s.held(id, attempt, err)
	if err != nil {
		return archive.Run{}, err
	}
	if !state.Ended() || made.Nothing() == (state == archive.Done) {
		panic(fmt.Sprintf("a run can not be finished as %q with a result: %t", state, !made.Nothing()))
	}
	r.State, r.Error, r.Finished = state, message, s.now
	if made.Plan != nil {
		r.Plan = s.savePlan(r.Plant, r.Revision, made.Plan).ID
	}
	if made.Simulation != nil {
		r.Simulation = s.saveSimulation(r.PlanID, false, made.Simulation).ID
	}
	s.changed(r)
	return r.Run, nil
}

// WatchRuns sends the ids of runs that change.
func (s *Store) WatchRuns(ctx context.Context) (<-chan string, error) {
	unlock, err := s.lock()
	defer unlock()
	if err != nil {
		return nil, err
	}
	c := make(chan string, 100)
	s.watchers[c] = true
	context.AfterFunc(ctx, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.watchers, c)
		close(c)
	})
	return c, nil
}

// changed raises the sequence of a run and tells those who watch.
func (s *Store) changed(r *run) {
	r.Sequence++
	for c := range s.watchers {
		select {
		case c <- r.ID:
		default:
		}
	}
}
