package storage

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/simulation"
)

func simulations(id int64) owner { return owner{"plan", "simulation", id} }

func simulationName(id int64) string { return fmt.Sprintf("simulation %d", id) }

// simulationColumns binds what a play has once.
func simulationColumns(r *simulation.Result) []column {
	s := &r.Settings
	return []column{
		{"weeks", &s.Weeks}, {"warm_up_weeks", &s.WarmUp}, {"replications", &s.Replications},
		{"use", &s.Use}, {"from_day", dayOrNone(&s.From)}, {"seed", &r.Seed},
		{"played_ns", &r.Played}, {"events", &r.Events}, {"pieces", &r.Pieces},
	}
}

func verdictColumns(v *archive.Verdicts) []column {
	return []column{{"proved", &v.Proved}, {"short", &v.Short}, {"not_played", &v.NotPlayed}}
}

func simulatedLoopColumns(l *simulation.LoopResult) []column {
	return append(keyColumns(&l.Loop), []column{
		{"verdict", &l.Verdict}, {"cause", &l.Cause}, {"ideal", &l.Ideal}, {"containers", &l.Containers}, {"enough", &l.Enough},
		{"cycles", &l.Cycles}, {"short_cycles", &l.ShortCycles},
		{"rate", &l.Rate}, {"rate_low", &l.Low}, {"rate_high", &l.High}, {"rate_allowed", &l.Allowed},
		{"shortages", &l.Shortages}, {"short_mean_ns", &l.ShortMean}, {"short_longest_ns", &l.ShortLongest},
		{"fill_rate", &l.FillRate}, {"on_hand_mean", &l.OnHandMean}, {"on_hand_most", &l.OnHandMost}, {"room", &l.Room},
		{"left_behind", &l.LeftBehind}, {"signal_wait_ns", &l.SignalWait},
	}...)
}

func simulatedRouteColumns(r *simulation.RouteResult) []column {
	return []column{
		{"route", &r.Route}, {"rounds", &r.Rounds}, {"late", &r.Late}, {"dropped", &r.Dropped},
		{"late_mean_ns", &r.LateMean}, {"late_most_ns", &r.LateMost},
		{"round_mean_ns", &r.RoundMean}, {"round_95_ns", &r.Round95}, {"round_most_ns", &r.RoundMost}, {"gap_most_ns", &r.GapMost},
		{"load_mean", &r.LoadMean}, {"load_95", &r.Load95}, {"load_most", &r.LoadMost}, {"capacity", &r.Capacity},
		{"left_behind", &r.LeftBehind}, {"full_rounds", &r.FullRounds},
	}
}

func simulatedRackColumns(r *simulation.RackResult) []column {
	return []column{
		{"rack", &r.Rack}, {"visits", &r.Visits}, {"overfull", &r.Overfull}, {"most_mm", &r.MostMM}, {"room_mm", &r.RoomMM},
	}
}

// SaveSimulation stores a play of a plan.
func (db *DB) SaveSimulation(ctx context.Context, plan int64, r simulation.Result) (header archive.Simulation, err error) {
	if _, err := db.Plan(ctx, plan); err != nil {
		return archive.Simulation{}, err
	}
	err = db.transact(ctx, func(tx pgx.Tx) error {
		header, err = saveSimulation(ctx, tx, plan, false, &r)
		return err
	})
	if err != nil {
		return archive.Simulation{}, translate(ctx, "save simulation of "+planName(plan), err)
	}
	return header, nil
}

// saveSimulation writes r within a transaction of the caller's.
func saveSimulation(ctx context.Context, tx pgx.Tx, plan int64, proof bool, r *simulation.Result) (archive.Simulation, error) {
	header := archive.NewSimulation(plan, proof, r)
	columns := append(simulationColumns(r), verdictColumns(&header.Verdicts)...)
	columns = append(columns, column{"plan", plan}, column{"proof", proof})
	if err := insert(ctx, tx, "plan.simulations", columns).Scan(&header.ID, &header.Created); err != nil {
		return header, err
	}
	w := &writer{owner: simulations(header.ID), ctx: ctx, tx: tx}
	writeAll(w, "simulated_loops", simulatedLoopColumns, r.Loops)
	writeAll(w, "simulated_routes", simulatedRouteColumns, r.Routes)
	writeAll(w, "simulated_racks", simulatedRackColumns, r.Racks)
	writeFindings(w, "simulation_", r.Findings)
	return header, w.err
}

// saveProof stores the proof of a plan, if it has one, with the plan.
func saveProof(ctx context.Context, tx pgx.Tx, plan int64, p *planner.Plan) error {
	if p.Proof == nil {
		return nil
	}
	_, err := saveSimulation(ctx, tx, plan, true, p.Proof)
	return err
}

// LoadSimulation returns a stored play, equal to the one that was saved.
func (db *DB) LoadSimulation(ctx context.Context, id int64) (*simulation.Result, error) {
	r, err := loadSimulation(ctx, db.pool, id)
	return r, translate(ctx, "load "+simulationName(id), err)
}

func loadSimulation(ctx context.Context, db querier, id int64) (*simulation.Result, error) {
	result := &simulation.Result{}
	if err := readHeader(ctx, db, "plan.simulations", id, simulationColumns(result)); err != nil {
		return nil, err
	}
	r := &reader{owner: simulations(id), ctx: ctx, db: db}
	result.Loops = read(r, "simulated_loops", simulatedLoopColumns)
	result.Routes = read(r, "simulated_routes", simulatedRouteColumns)
	result.Racks = read(r, "simulated_racks", simulatedRackColumns)
	result.Findings = readFindings(r, "simulation_")
	if r.err != nil {
		return nil, r.err
	}
	return result, nil
}

// loadProof returns the proof of a plan, nil where it has none.
func loadProof(ctx context.Context, db querier, plan int64) (*simulation.Result, error) {
	list, err := selectSimulations(ctx, db, `where x.plan = $1 and x.proof`, plan)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	return loadSimulation(ctx, db, list[0].ID)
}

// Simulation returns the header of a play.
func (db *DB) Simulation(ctx context.Context, id int64) (archive.Simulation, error) {
	list, err := selectSimulations(ctx, db.pool, `where x.id = $1`, id)
	if err == nil && len(list) == 0 {
		err = pgx.ErrNoRows
	}
	if err != nil {
		return archive.Simulation{}, translate(ctx, simulationName(id), err)
	}
	return list[0], nil
}

// Simulations lists the plays of a plan by id, its proof among them, those
// after the given one; a limit below 1 is none.
func (db *DB) Simulations(ctx context.Context, plan, after int64, limit int) ([]archive.Simulation, error) {
	if _, err := db.Plan(ctx, plan); err != nil {
		return nil, err
	}
	list, err := selectSimulations(ctx, db.pool, `where x.plan = $1 and x.id > $2 order by x.id limit $3`, plan, after, atMost(limit))
	return list, translate(ctx, "list simulations of "+planName(plan), err)
}

func selectSimulations(ctx context.Context, db querier, where string, args ...any) ([]archive.Simulation, error) {
	var s archive.Simulation
	var r simulation.Result
	fields := []any{&s.ID, &s.Plan, &s.Proof, &s.Created}
	sql := "select x.id, x.plan, x.proof, x.created"
	for _, c := range append(simulationColumns(&r), verdictColumns(&s.Verdicts)...) {
		fields = append(fields, c.field)
		sql += ", x." + c.name
	}
	rows, err := db.Query(ctx, sql+" from plan.simulations x "+where, args...)
	if err != nil {
		return nil, err
	}
	var list []archive.Simulation
	_, err = pgx.ForEachRow(rows, fields, func() error {
		s.Settings, s.Seed, s.Played, s.Events, s.Pieces = r.Settings, r.Seed, r.Played, r.Events, r.Pieces
		list = append(list, s)
		r = simulation.Result{}
		return nil
	})
	return list, err
}
