package storage

import (
	"database/sql/driver"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgtype"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// special is a field that the driver can not store by itself. get returns nil
// for NULL; set is never called with nil.
type special struct {
	get func() driver.Value
	set func(driver.Value) error
}

// Value implements driver.Valuer.
func (s *special) Value() (driver.Value, error) { return s.get(), nil }

// Scan implements sql.Scanner. NULL leaves the field at its zero value.
func (s *special) Scan(src any) error {
	if src == nil {
		return nil
	}
	return s.set(src)
}

// ratio is an exact ratio as text.
func ratio(r *units.Ratio) *special {
	return &special{
		func() driver.Value { return r.String() },
		func(v driver.Value) (err error) { *r, err = parseRatio(fmt.Sprint(v)); return err },
	}
}

// optionalRatio is NULL where there is none.
func optionalRatio(p **units.Ratio) *special {
	return optional(p, ratio)
}

// optional is a field of a value that may be absent: NULL stands for nil.
func optional[T any](p **T, field func(*T) *special) *special {
	return &special{
		func() driver.Value {
			if *p == nil {
				return nil
			}
			return field(*p).get()
		},
		func(v driver.Value) error {
			if *p == nil {
				*p = new(T)
			}
			return field(*p).set(v)
		},
	}
}

// whole, double and words are fields for optional.
func whole[T ~int64 | ~int](n *T) *special {
	return &special{
		func() driver.Value { return int64(*n) },
		func(v driver.Value) error { return set(v, func(i int64) { *n = T(i) }) },
	}
}

func double(f *float64) *special {
	return &special{
		func() driver.Value { return *f },
		func(v driver.Value) error { return set(v, func(g float64) { *f = g }) },
	}
}

func words[T ~string](s *T) *special {
	return &special{
		func() driver.Value { return string(*s) },
		func(v driver.Value) error { return set(v, func(t string) { *s = T(t) }) },
	}
}

// dayOrNone is a day; the zero time is NULL.
func dayOrNone(t *time.Time) *special {
	return &special{
		func() driver.Value {
			if t.IsZero() {
				return nil
			}
			return *t
		},
		func(v driver.Value) error { return set(v, func(d time.Time) { *t = d }) },
	}
}

func set[V any](v driver.Value, f func(V)) error {
	typed, ok := v.(V)
	if !ok {
		return fmt.Errorf("%T where %T was expected", v, typed)
	}
	f(typed)
	return nil
}

// parseRatio reads what Ratio.String wrote. units.ParseRatio refuses texts
// longer than any sheet needs; what the planner computes may be longer.
func parseRatio(s string) (units.Ratio, error) {
	if len(s) <= 64 {
		return units.ParseRatio(s)
	}
	negative := strings.HasPrefix(s, "-")
	num, den, _ := strings.Cut(strings.TrimPrefix(s, "-"), "/")
	whole, decimals, _ := strings.Cut(num, ".")
	value, err := digits(whole + decimals)
	if err != nil {
		return units.Ratio{}, err
	}
	if den == "" {
		den = "1" + strings.Repeat("0", len(decimals))
	}
	divisor, err := digits(den)
	if err != nil || divisor.IsZero() {
		return units.Ratio{}, fmt.Errorf("%w: %q", units.ErrNotANumber, s)
	}
	if negative {
		value = units.Int(0).Sub(value)
	}
	return value.Div(divisor), nil
}

// digits reads a whole number of any length, 15 digits at a time.
func digits(s string) (units.Ratio, error) {
	var value units.Ratio
	for len(s) > 0 {
		n := min(15, len(s))
		part, err := strconv.ParseUint(s[:n], 10, 63)
		if err != nil {
			return units.Ratio{}, fmt.Errorf("%w: %q", units.ErrNotANumber, s)
		}
		value = value.Mul(units.MustRatio("1" + strings.Repeat("0", n))).Add(units.Int(int64(part)))
		s = s[n:]
	}
	return value, nil
}

// list is an array column: an empty list is written as an empty array and
// comes back as nil. element is nil where the driver stores a T by itself.
type list[T any] struct {
	all     *[]T
	element func(*T) any
}

func array[T any](all *[]T) *list[T] { return &list[T]{all, func(t *T) any { return t }} }

func ratios(all *[]units.Ratio) *list[units.Ratio] {
	return &list[units.Ratio]{all, func(r *units.Ratio) any { return ratio(r) }}
}

// Dimensions, Index and IndexType implement pgtype.ArrayGetter.
func (l *list[T]) Dimensions() []pgtype.ArrayDimension {
	if len(*l.all) == 0 {
		return []pgtype.ArrayDimension{}
	}
	return []pgtype.ArrayDimension{{Length: int32(len(*l.all)), LowerBound: 1}}
}

// Index returns element i.
func (l *list[T]) Index(i int) any { return l.element(&(*l.all)[i]) }

// IndexType returns an element to choose an encoding by.
func (l *list[T]) IndexType() any { return l.element(new(T)) }

// SetDimensions, ScanIndex and ScanIndexType implement pgtype.ArraySetter.
func (l *list[T]) SetDimensions(d []pgtype.ArrayDimension) error {
	*l.all = nil
	if len(d) > 0 && d[0].Length > 0 {
		*l.all = make([]T, d[0].Length)
	}
	return nil
}

// ScanIndex returns where element i goes.
func (l *list[T]) ScanIndex(i int) any { return l.element(&(*l.all)[i]) }

// ScanIndexType returns an element to choose a decoding by.
func (l *list[T]) ScanIndexType() any { return l.element(new(T)) }

// weekdays is the days of a shift as the sheet writes them, "Mon,Tue".
func weekdays(days *[7]bool) *special {
	return &special{
		func() driver.Value {
			var names []string
			for d, works := range days {
				if works {
					names = append(names, time.Weekday(d).String()[:3])
				}
			}
			return strings.Join(names, ",")
		},
		func(v driver.Value) error {
			*days = [7]bool{}
			for d := range days {
				days[d] = strings.Contains(fmt.Sprint(v), time.Weekday(d).String()[:3])
			}
			return nil
		},
	}
}

// place is the two columns of a place that may be unknown.
func place(x, y string, p **plant.Place) []column {
	return []column{
		{x, optional(p, func(p *plant.Place) *special { return whole(&p.X) })},
		{y, optional(p, func(p *plant.Place) *special { return whole(&p.Y) })},
	}
}

// origin is the four columns of a place in the sheets.
func origin(o *finding.Origin) []column {
	return []column{
		{"origin_file", &o.File}, {"origin_sheet", &o.Sheet},
		{"origin_row", &o.Row}, {"origin_column", &o.Column},
	}
}
