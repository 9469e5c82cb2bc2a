package planner

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// noLimit is the text of a limit that is none.
const noLimit = "none"

// mostMoves is the largest limit on moved containers or stops.
const mostMoves = 1_000_000

// list is names between commas, a name with a comma in double quotes; the empty
// text is none.
func list(key string, field func(*Settings) *[]string) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return joinedNames(*field(s)) },
		func(s *Settings, v string) error {
			names, ok := splitNames(v)
			if ok {
				*field(s) = names
			}
			return expect(ok, v, `names between commas, such as A,"B,1"`)
		}}
}

func joinedNames(names []string) string {
	if len(names) == 0 {
		return ""
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	_ = w.Write(names) // a Builder takes all
	w.Flush()
	return strings.TrimSuffix(b.String(), "\n")
}

func splitNames(v string) ([]string, bool) {
	if v == "" {
		return nil, true
	}
	r := csv.NewReader(strings.NewReader(v))
	r.TrimLeadingSpace = true
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 1 {
		return nil, false
	}
	for i := range rows[0] {
		rows[0][i] = strings.TrimSpace(rows[0][i])
	}
	return rows[0], !slices.Contains(rows[0], "")
}

// limit is a number that may be none: whether there is one, and which.
func limit(key string, limited func(*Settings) *bool, field func(*Settings) *int) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string {
			if !*limited(s) {
				return noLimit
			}
			return strconv.Itoa(*field(s))
		},
		func(s *Settings, v string) error {
			n, err := strconv.Atoi(v)
			if v != noLimit {
				if err := expect(err == nil && n >= 0 && n <= mostMoves, v, fmt.Sprintf("none, or a whole number, 0 to %d", mostMoves)); err != nil {
					return err
				}
			}
			*limited(s), *field(s) = v != noLimit, n
			return nil
		}}
}
