package vrp

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Read reads a file. Rounding is "integer", "exact" or "" for the custom of
// published collections: exact where routes have a limit of length, else
// rounded.
func Read(name, rounding string) (*Instance, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("read problem: %w", err)
	}
	v, err := Parse(string(data))
	if err != nil {
		return nil, fmt.Errorf("%s:%w", name, err)
	}
	if v.Name == "" {
		v.Name = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	}
	v.Exact = rounding == "exact" || rounding == "" && v.Limit > 0
	return v, nil
}

// reader goes through the words of a file.
type reader struct {
	v     *Instance
	lines []string
	// at is the number of the line, from 1; words are those left of it.
	at             int
	words          []string
	nodes          int
	weights, shape string
	depot          int
	service        float64
	services       []float64
}

// Parse reads the text of a file.
func Parse(text string) (*Instance, error) {
	r := &reader{v: &Instance{}, lines: strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n"), depot: 1}
	if err := r.read(); err != nil {
		return nil, fmt.Errorf("%d: %w", max(r.at, 1), err)
	}
	return r.v, nil
}

func wrong(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrFormat, fmt.Sprintf(format, args...))
}

func (r *reader) read() error {
	for r.at < len(r.lines) {
		line := strings.TrimSpace(r.lines[r.at])
		r.at++
		if line == "" {
			continue
		}
		if line == "EOF" {
			break
		}
		key, value, _ := strings.Cut(line, ":")
		if err := r.entry(strings.ToUpper(strings.TrimSpace(key)), strings.TrimSpace(value)); err != nil {
			return err
		}
	}
	return r.finish()
}

// entry reads one line of the head or one section.
func (r *reader) entry(key, value string) error {
	var err error
	switch key {
	case "NAME":
		r.v.Name = value
	case "COMMENT", "NODE_COORD_TYPE", "DISPLAY_DATA_TYPE", "VEHICLES":
	case "TYPE":
		if t := strings.ToUpper(value); t != "CVRP" && t != "ACVRP" && t != "DCVRP" && t != "VRP" {
			err = wrong("type %q, want CVRP", value)
		}
	case "DIMENSION":
		r.nodes, err = strconv.Atoi(value)
		if err != nil || r.nodes < 1 || r.nodes > mostNodes {
			err = wrong("dimension %q, want 1 to %d", value, mostNodes)
		}
	case "EDGE_WEIGHT_TYPE":
		r.weights = strings.ToUpper(value)
		if r.weights != "EUC_2D" && r.weights != "EXPLICIT" {
			err = wrong("edge weight type %q, want EUC_2D or EXPLICIT", value)
		}
	case "EDGE_WEIGHT_FORMAT":
		r.shape = strings.ToUpper(value)
	case "CAPACITY":
		r.v.Capacity, err = wholeNumber(value)
	case "DISTANCE":
		r.v.Limit, err = number(value)
	case "SERVICE_TIME":
		r.service, err = number(value)
	default:
		err = r.section(key)
	}
	return err
}

// mostNodes is how many nodes a file may have.
const mostNodes = 100_000

func (r *reader) section(key string) error {
	if r.nodes == 0 {
		return wrong("%q before DIMENSION", key)
	}
	switch key {
	case "NODE_COORD_SECTION":
		return r.coordinates()
	case "DEMAND_SECTION":
		return r.demands()
	case "SERVICE_TIME_SECTION":
		return r.serviceTimes()
	case "EDGE_WEIGHT_SECTION":
		return r.table()
	case "DEPOT_SECTION":
		return r.depots()
	}
	return wrong("%q is not known", key)
}

func number(s string) (float64, error) {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.Abs(x) > 1e9 {
		return 0, wrong("%q is no number below a thousand million", s)
	}
	return x, nil
}

func wholeNumber(s string) (int64, error) {
	x, err := number(s)
	if err == nil && (x < 0 || x != math.Trunc(x)) {
		err = wrong("%q is no whole number from 0", s)
	}
	return int64(x), err
}

// next returns the next number of a section.
func (r *reader) next() (float64, error) {
	for len(r.words) == 0 {
		if r.at == len(r.lines) {
			return 0, wrong("the file ends within a section")
		}
		r.words = strings.Fields(r.lines[r.at])
		r.at++
	}
	x, err := number(r.words[0])
	r.words = r.words[1:]
	return x, err
}

// node returns the next number as that of a node, from 0.
func (r *reader) node() (int, error) {
	x, err := r.next()
	if err != nil {
		return 0, err
	}
	if x < 1 || x > float64(r.nodes) || x != math.Trunc(x) {
		return 0, wrong("node %v of %d", x, r.nodes)
	}
	return int(x) - 1, nil
}

// byNode reads so many numbers for each node.
func (r *reader) byNode(columns ...*[]float64) error {
	seen := make([]bool, r.nodes)
	for _, c := range columns {
		*c = make([]float64, r.nodes)
	}
	for range r.nodes {
		i, err := r.node()
		if err != nil {
			return err
		}
		if seen[i] {
			return wrong("node %d stands twice", i+1)
		}
		seen[i] = true
		for _, c := range columns {
			if (*c)[i], err = r.next(); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *reader) coordinates() error { return r.byNode(&r.v.X, &r.v.Y) }

func (r *reader) serviceTimes() error { return r.byNode(&r.services) }

func (r *reader) demands() error {
	var list []float64
	if err := r.byNode(&list); err != nil {
		return err
	}
	r.v.Demand = make([]int64, r.nodes)
	for i, d := range list {
		if d < 0 || d != math.Trunc(d) {
			return wrong("demand %v of node %d is no whole number from 0", d, i+1)
		}
		r.v.Demand[i] = int64(d)
	}
	return nil
}

// depots reads the depot, which must be one.
func (r *reader) depots() error {
	i, err := r.node()
	if err != nil {
		return err
	}
	r.depot = i + 1
	end, err := r.next()
	if err == nil && end != -1 {
		err = wrong("more than one depot")
	}
	return err
}

// table reads the legs in one of the usual shapes.
func (r *reader) table() error {
	n := r.nodes
	first, last := func(int) int { return 0 }, func(int) int { return n - 1 }
	switch r.shape {
	case "FULL_MATRIX":
	case "LOWER_ROW":
		last = func(a int) int { return a - 1 }
	case "LOWER_DIAG_ROW":
		last = func(a int) int { return a }
	case "UPPER_ROW":
		first = func(a int) int { return a + 1 }
	case "UPPER_DIAG_ROW":
		first = func(a int) int { return a }
	default:
		return wrong("edge weight format %q is not known", r.shape)
	}
	r.v.Table = make([]float64, n*n)
	for a := range n {
		for b := first(a); b <= last(a); b++ {
			x, err := r.next()
			if err != nil {
				return err
			}
			if x < 0 {
				return wrong("leg of length %v", x)
			}
			r.v.Table[a*n+b] = x
			if r.shape != "FULL_MATRIX" {
				r.v.Table[b*n+a] = x
			}
		}
	}
	return nil
}

// finish looks for what is missing and lets the depot be node 0.
func (r *reader) finish() error {
	v := r.v
	switch {
	case r.nodes == 0:
		return wrong("DIMENSION is missing")
	case v.Demand == nil:
		return wrong("DEMAND_SECTION is missing")
	case v.Capacity == 0:
		return wrong("CAPACITY is missing")
	case r.weights == "EUC_2D" && v.X == nil:
		return wrong("NODE_COORD_SECTION is missing")
	case r.weights == "EXPLICIT" && v.Table == nil:
		return wrong("EDGE_WEIGHT_SECTION is missing")
	case r.weights == "":
		return wrong("EDGE_WEIGHT_TYPE is missing")
	case v.Limit < 0 || r.service < 0:
		return wrong("a limit or service below 0")
	case r.depot != 1:
		return wrong("the depot is node %d; only the first can be", r.depot)
	}
	if r.weights == "EXPLICIT" {
		v.X, v.Y = nil, nil
	} else {
		v.Table = nil
	}
	for i, d := range v.Demand {
		if d > v.Capacity {
			return wrong("demand %d of node %d exceeds the capacity %d", d, i+1, v.Capacity)
		}
	}
	v.Service = r.services
	if v.Service == nil {
		v.Service = make([]float64, r.nodes)
		for i := 1; i < r.nodes; i++ {
			v.Service[i] = r.service
		}
	}
	v.Service[0] = 0
	return nil
}
