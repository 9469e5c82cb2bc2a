package storage

import (
	"context"
	"iter"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
)

// column binds a column of a table to a field: a pointer that the driver both
// reads and writes through. One list of columns per table serves COPY and
// SELECT, so the two can not disagree.
type column struct {
	name  string
	field any
}

// binding lists the columns of a table for one value.
type binding[T any] func(*T) []column

// owner is the revision or plan whose rows are written or read.
type owner struct {
	// schema and key name the tables' schema and the column that holds id.
	schema, key string
	id          int64
}

func facts(revision int64) owner { return owner{"facts", "revision", revision} }
func plans(plan int64) owner     { return owner{"plan", "plan", plan} }

// writer writes the rows of one owner within one transaction. After the first
// error it does nothing more; err keeps it. It lives no longer than the call
// that makes it, which is why it may hold ctx.
type writer struct {
	owner
	ctx context.Context
	tx  pgx.Tx
	err error
}

// write streams rows into table by COPY, numbered from 1 in their order.
func write[T any](w *writer, table string, bind binding[T], rows iter.Seq[T]) {
	if w.err != nil {
		return
	}
	src := &source[T]{id: w.id}
	names := []string{w.key, "ordinal"}
	src.values = []any{&src.id, &src.ordinal}
	for _, c := range bind(&src.row) {
		names = append(names, c.name)
		src.values = append(src.values, c.field)
	}
	var stop func()
	src.next, stop = iter.Pull(rows)
	defer stop()
	_, w.err = w.tx.CopyFrom(w.ctx, pgx.Identifier{w.schema, table}, names, src)
}

// writeAll writes a list.
func writeAll[T any](w *writer, table string, bind binding[T], rows []T) {
	write(w, table, bind, slices.Values(rows))
}

// source hands rows to COPY one after another through one row's fields.
type source[T any] struct {
	next    func() (T, bool)
	id      int64
	ordinal int32
	row     T
	values  []any
}

// Next moves to the next row.
func (s *source[T]) Next() (ok bool) {
	s.row, ok = s.next()
	s.ordinal++
	return ok
}

// Values returns the fields of the row.
func (s *source[T]) Values() ([]any, error) { return s.values, nil }

// Err is always nil: rows come from memory.
func (s *source[T]) Err() error { return nil }

// reader reads the rows of one owner. As a writer it stops at the first error.
type reader struct {
	owner
	ctx context.Context
	db  querier
	err error
}

// querier is a pool, a connection or a transaction.
type querier interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
}

// read returns the rows of table in their order.
func read[T any](r *reader, table string, bind binding[T]) []T {
	if r.err != nil {
		return nil
	}
	var row T
	var names []string
	var fields []any
	for _, c := range bind(&row) {
		names = append(names, c.name)
		fields = append(fields, c.field)
	}
	rows, err := r.db.Query(r.ctx, "select "+strings.Join(names, ", ")+" from "+r.schema+"."+table+
		" where "+r.key+" = $1 order by ordinal", r.id)
	if err != nil {
		r.err = err
		return nil
	}
	var list []T
	_, r.err = pgx.ForEachRow(rows, fields, func() error {
		list = append(list, row)
		row = *new(T)
		return nil
	})
	return list
}

// child is a row that belongs to a row of another table: Parent is the
// ordinal of that row, from 1.
type child[T any] struct {
	Parent int32
	Row    T
}

// childOf adds the column parent to the columns of a child's row.
func childOf[T any](bind binding[T]) binding[child[T]] {
	return func(c *child[T]) []column {
		return append([]column{{"parent", &c.Parent}}, bind(&c.Row)...)
	}
}

// children lists the children of all parents in their order.
func children[P, C any](parents []P, of func(*P) *[]C) iter.Seq[child[C]] {
	return func(yield func(child[C]) bool) {
		for i := range parents {
			for _, c := range *of(&parents[i]) {
				if !yield(child[C]{int32(i + 1), c}) {
					return
				}
			}
		}
	}
}

// adopt gives each child to its parent.
func adopt[P, C any](parents []P, all []child[C], of func(*P) *[]C) {
	for _, c := range all {
		list := of(&parents[c.Parent-1])
		*list = append(*list, c.Row)
	}
}
