package storage

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"lanewright/planner"
	"lanewright/planner/archive"
)

// SavePlan stores p as a plan of the plant's revision (0 is the latest). It
// answers with archive.ErrConflict when p was made from other facts.
func (db *DB) SavePlan(ctx context.Context, plant string, revision int, p *planner.Plan) (header archive.Plan, err error) {
	rev, err := db.revision(ctx, plant, revision)
	if err != nil {
		return archive.Plan{}, err
	}
	err = db.transact(ctx, func(tx pgx.Tx) error {
		header, err = savePlan(ctx, tx, rev, p)
		return err
	})
	if err != nil {
		return archive.Plan{}, translate(ctx, "save plan of "+plant, err)
	}
	return header, nil
}

// savePlan writes p within a transaction of the caller's; more are further columns
// of its row.
func savePlan(ctx context.Context, tx pgx.Tx, rev revision, p *planner.Plan, more ...column) (archive.Plan, error) {
	header := archive.Plan{
		Plant: rev.Plant, Revision: rev.Number, Hash: p.Revision,
		Seed: p.Settings.Plant.Seed, Version: p.Version, Summary: p.Summary(),
	}
	if p.Revision != rev.Hash {
		return header, fmt.Errorf("%w: the plan was made from facts %s and revision %d is %s",
			archive.ErrConflict, p.Revision, rev.Number, rev.Hash)
	}
	columns := append(planColumns(p), summaryColumns(&header.Summary)...)
	columns = append(append(columns, column{"revision", rev.ID}), more...)
	if err := insert(ctx, tx, "plan.plans", columns).Scan(&header.ID, &header.Created); err != nil {
		return header, err
	}
	w := &writer{owner: plans(header.ID), ctx: ctx, tx: tx}
	writePlan(w, p)
	if w.err != nil {
		return header, w.err
	}
	return header, saveProof(ctx, tx, header.ID, p)
}

// insert adds one row and returns its id and when it was created.
func insert(ctx context.Context, tx pgx.Tx, table string, columns []column) pgx.Row {
	var names, places []string
	var values []any
	for i, c := range columns {
		names = append(names, c.name)
		places = append(places, fmt.Sprintf("$%d", i+1))
		values = append(values, c.field)
	}
	return tx.QueryRow(ctx, "insert into "+table+" ("+strings.Join(names, ", ")+") values ("+
		strings.Join(places, ", ")+") returning id, created", values...)
}

// writePlan writes every list of a plan.
func writePlan(w *writer, p *planner.Plan) {
	writeAll(w, "settings", pairColumns, p.Settings.Pairs())
	writeLoops(w, p.Loops)
	writeRacks(w, p.Racks)
	writeAll(w, "lanes", laneColumns, p.Lanes)
	writeAll(w, "unplaced", unplacedColumns, p.Unplaced)
	writeAll(w, "bounds", boundColumns, p.Cells)
	writeAll(w, "balance", balanceColumns, p.Balance)
	writeRoutes(w, p.Routes)
	writeUnserved(w, p.Unserved)
	writeAll(w, "moves", moveColumns, p.Moves)
	writeAll(w, "move_steps", stepColumns, p.MoveSteps)
	writeFindings(w, "", p.Findings)
	writeEdits(w, p)
}

// readPlan reads into p what writePlan wrote.
func readPlan(r *reader, p *planner.Plan) {
	origin := p.Settings.Plant.Origin
	p.Settings = readPlanSettings(r)
	p.Settings.Plant.Origin = origin
	p.Loops = readLoops(r)
	p.Racks = readRacks(r)
	p.Lanes = read(r, "lanes", laneColumns)
	p.Unplaced = read(r, "unplaced", unplacedColumns)
	p.Cells = read(r, "bounds", boundColumns)
	p.Balance = read(r, "balance", balanceColumns)
	p.Routes = readRoutes(r)
	p.Unserved = readUnserved(r)
	p.Moves = read(r, "moves", moveColumns)
	p.MoveSteps = read(r, "move_steps", stepColumns)
	p.Findings = readFindings(r, "")
	readEdits(r, p)
}

// planColumns binds what a plan has once. The seed stands among the settings
// too; its column is for people.
func planColumns(p *planner.Plan) []column {
	b := &p.RouteBounds
	return append([]column{
		{"plant_name", &p.Plant}, {"hash", &p.Revision}, {"version", &p.Version}, {"stopped", &p.Stopped},
		{"seed", &p.Settings.Plant.Seed},
		{"bound_routes", &b.Routes}, {"bound_routes_least", &b.RoutesBound},
		{"bound_travel_nm", &b.Travel}, {"bound_travel_least_nm", &b.TravelBound}, {"bound_handlers", &b.Handlers}, {"bound_handlers_least", &b.HandlersBound},
	}, origin(&p.Settings.Plant.Origin)...)
}

func summaryColumns(s *planner.Summary) []column {
	return []column{
		{"loops", &s.Loops}, {"loops_placed", &s.LoopsPlaced},
		{"lanes_used", &s.LanesUsed}, {"lanes_free", &s.LanesFree}, {"return_lanes", &s.ReturnLanes},
		{"racks", &s.Racks}, {"racks_proposed", &s.RacksProposed},
		{"containers", &s.Containers}, {"containers_unplaced", &s.ContainersUnplaced},
		{"routes", &s.Routes}, {"handlers", &s.Handlers},
		{"moves", &s.Moves}, {"moved_containers", &s.MovedContainers},
		{"errors", &s.Errors}, {"warnings", &s.Warnings}, {"notes", &s.Notes},
		{"pieces_per_hour", &s.PiecesPerHour}, {"containers_per_hour", &s.ContainersPerHour}, {"effort", &s.Effort},
	}
}

// Plans lists the plans of a plant by id, those after the given one; a limit
// below 1 is none.
func (db *DB) Plans(ctx context.Context, plant string, after int64, limit int) ([]archive.Plan, error) {
	if _, err := db.Plant(ctx, plant); err != nil {
		return nil, err
	}
	list, err := selectPlans(ctx, db.pool, `where p.name = $1 and x.id > $2 order by x.id limit $3`, plant, after, atMost(limit))
	return list, translate(ctx, "list plans of "+plant, err)
}

// Plan returns the header of a plan.
func (db *DB) Plan(ctx context.Context, id int64) (archive.Plan, error) {
	list, err := selectPlans(ctx, db.pool, `where x.id = $1`, id)
	if err == nil && len(list) == 0 {
		err = pgx.ErrNoRows
	}
	if err != nil {
		return archive.Plan{}, translate(ctx, planName(id), err)
	}
	return list[0], nil
}

func planName(id int64) string { return fmt.Sprintf("plan %d", id) }

func selectPlans(ctx context.Context, db querier, where string, args ...any) ([]archive.Plan, error) {
	var p archive.Plan
	fields := []any{&p.ID, &p.Plant, &p.Revision, &p.Hash, &p.Seed, &p.Version, &p.Created, &p.From, &p.Draft}
	sql := "select x.id, p.name, r.number, x.hash, x.seed, x.version, x.created, coalesce(x.edited_from, 0), coalesce(x.draft, 0)"
	for _, c := range summaryColumns(&p.Summary) {
		fields = append(fields, c.field)
		sql += ", x." + c.name
	}
	rows, err := db.Query(ctx, sql+`
		from plan.plans x
		join facts.revisions r on r.id = x.revision
		join facts.plants p on p.id = r.plant `+where, args...)
	if err != nil {
		return nil, err
	}
	var list []archive.Plan
	_, err = pgx.ForEachRow(rows, fields, func() error {
		list = append(list, p)
		return nil
	})
	return list, err
}

// LoadPlan returns a stored plan, equal to the one that was saved.
func (db *DB) LoadPlan(ctx context.Context, id int64) (*planner.Plan, error) {
	p := &planner.Plan{}
	// The header first: once it is visible, so is all the rest.
	if err := readHeader(ctx, db.pool, "plan.plans", id, planColumns(p)); err != nil {
		return nil, translate(ctx, "load "+planName(id), err)
	}
	r := &reader{owner: plans(id), ctx: ctx, db: db.pool}
	readPlan(r, p)
	if r.err == nil {
		p.Proof, r.err = loadProof(ctx, db.pool, id)
	}
	if r.err != nil {
		return nil, translate(ctx, "load "+planName(id), r.err)
	}
	return p, nil
}

// readHeader reads what a plan or simulation has once; it answers with
// pgx.ErrNoRows where table has no such row.
func readHeader(ctx context.Context, db querier, table string, id int64, columns []column) error {
	var names []string
	var fields []any
	for _, c := range columns {
		names = append(names, c.name)
		fields = append(fields, c.field)
	}
	rows, err := db.Query(ctx, "select "+strings.Join(names, ", ")+" from "+table+" where id = $1", id)
	if err != nil {
		return err
	}
	tag, err := pgx.ForEachRow(rows, fields, func() error { return nil })
	if err == nil && tag.RowsAffected() == 0 {
		return pgx.ErrNoRows
	}
	return err
}
