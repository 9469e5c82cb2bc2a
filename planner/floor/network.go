// Package floor holds the aisles of a plant as a directed graph and finds the
// quickest and the shortest ways over it.
//
// Lengths are whole nanometres and times whole nanoseconds, so sums are exact
// and two ways of the same time compare as equal. The graph lies in flat
// arrays: the edges that leave point i are edges[first[i]:first[i+1]].
package floor

import (
	"fmt"
	"math"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about the aisles.
const (
	CodeShorterThanLine = "aisles.shorter-than-straight"
	CodeUnreachable     = "aisle-points.unreachable"
)

// Network is the directed graph of a plant's aisles. It does not change once
// it is built and may be read from many goroutines.
type Network struct {
	points []plant.PointCode
	index  map[plant.PointCode]int32
	places []plant.Place
	// out are the aisles in their direction of travel, in the same aisles
	// against it.
	out, in edges
	// shut are ways that nobody may take: closed aisles, and one-way aisles
	// against their direction.
	shut []shut
	// corners are the turns at points that out may take; nil where all may be.
	corners *corners
	// strips are the single-file stretches, numbered from 1.
	strips []Strip
}

// edges is a compressed list of the edges at each point.
type edges struct {
	first []int32
	list  []edge
}

// edge leads to another point. Limit 0 is no speed limit. Aisle is its row in the
// sheet Aisles, strip the single-file stretch it lies in, 0 for none.
type edge struct {
	to           int32
	length       units.Length
	limit        units.Speed
	traffic      plant.Traffic
	aisle, strip int32
}

// never is the time to a place that can not be reached.
const never = math.MaxInt64

// far ends every way: what takes longer than 2^50 ns (13 days) or is longer
// than 2^50 nm (1125 km) counts as no way, so that sums over rounds stay in
// range whatever the sheet holds.
const far = 1 << 50

// arc is an edge with the point it leaves.
type arc struct {
	from int32
	edge
}

// New builds the network of p. An aisle may be driven both ways unless it is
// one way; its length is the sheet's, else the straight line between its
// points. An aisle that names an unknown point is left out: plant.Check has
// reported it; so is one that a rule closes. What is noticed here are lengths that
// can not be, and points without racks that no round could reach.
func New(p *plant.Plant) (*Network, finding.List) {
	n := &Network{index: make(map[plant.PointCode]int32, len(p.AislePoints))}
	for _, a := range p.AislePoints {
		if _, twice := n.index[a.Point]; twice {
			continue
		}
		n.index[a.Point] = int32(len(n.points))
		n.points = append(n.points, a.Point)
		n.places = append(n.places, a.Place)
	}
	arcs, found := n.arcs(p)
	n.number(p, arcs)
	n.out = newEdges(len(n.points), arcs)
	n.corners = n.turning(p)
	for i, a := range arcs {
		arcs[i].from, arcs[i].to = a.to, a.from
	}
	n.in = newEdges(len(n.points), arcs)
	return n, append(found, n.check(p)...)
}

// arcs turns the rows of the sheet Aisles into directed edges.
func (n *Network) arcs(p *plant.Plant) ([]arc, finding.List) {
	var arcs []arc
	var found finding.List
	closed := p.Closed()
	for i, a := range p.Aisles {
		from, okFrom := n.index[a.From]
		to, okTo := n.index[a.To]
		if !okFrom || !okTo {
			continue
		}
		line := Straight(n.places[from], n.places[to])
		length := a.Length
		if length <= 0 {
			length = line
		} else if length < line-line/100 {
			found = append(found, shorterThanLine(p, a, line))
		}
		e := edge{to: to, length: length, limit: a.SpeedLimit, traffic: a.Traffic, aisle: int32(i)}
		back := e
		back.to = from
		switch {
		case closed(a.From, a.To):
			n.shut = append(n.shut, shut{arc{from, e}, Closed})
			if !a.OneWay {
				n.shut = append(n.shut, shut{arc{to, back}, Closed})
			}
		case a.OneWay:
			arcs = append(arcs, arc{from, e})
			n.shut = append(n.shut, shut{arc{to, back}, OneWay})
		default:
			arcs = append(arcs, arc{from, e}, arc{to, back})
		}
	}
	return arcs, found
}

// newEdges sorts arcs by the point they leave, keeping the order of the sheet.
func newEdges(points int, arcs []arc) edges {
	e := edges{make([]int32, points+1), make([]edge, len(arcs))}
	for _, a := range arcs {
		e.first[a.from+1]++
	}
	for i := range points {
		e.first[i+1] += e.first[i]
	}
	next := append([]int32(nil), e.first...)
	for _, a := range arcs {
		e.list[next[a.from]] = a.edge
		next[a.from]++
	}
	return e
}

// from returns the edges that leave point i.
func (e edges) from(i int32) []edge { return e.list[e.first[i]:e.first[i+1]] }

// Has reports whether p is a point of the network.
func (n *Network) Has(p plant.PointCode) bool {
	_, ok := n.index[p]
	return ok
}

// Aisles returns the number of directed aisles: one that may be driven both
// ways counts twice.
func (n *Network) Aisles() int { return len(n.out.list) }

func shorterThanLine(p *plant.Plant, a plant.Aisle, line units.Length) finding.Finding {
	return finding.Finding{
		Severity: finding.Warning, Code: CodeShorterThanLine, Origin: p.At(a.Origin, "Length"), Subject: finding.Subject{Point: string(a.From)},
		Summary: fmt.Sprintf("The aisle from %s to %s is %.3g m long, shorter than the straight line of %.3g m", a.From, a.To, a.Length.Metres(), line.Metres()),
		Detail:  "No way between two points is shorter than the straight line. The length of the sheet was used.",
		Remedy:  "Correct the length or the coordinates of the two points, and check their units.",
		Measure: &finding.Measure{Value: a.Length.Metres(), Limit: line.Metres(), Unit: "m"},
	}
}
