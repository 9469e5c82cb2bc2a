package storage

import (
	"reflect"

	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
)

// rack is a rack of a plan; Type is the ordinal of its rack type.
type rack struct {
	structure.Rack
	Type *int32
}

func planRackColumns(r *rack) []column {
	return []column{
		{"rack", &r.Rack.Rack}, {"type", &r.Type}, {"cell", &r.Cell}, {"proposed", &r.Proposed},
		{"stations", array(&r.Stations)}, {"x_nm", &r.Place.X}, {"y_nm", &r.Place.Y},
		{"place_known", &r.Known}, {"aisle_point", &r.Point},
	}
}

func rackLevelColumns(l *structure.Level) []column {
	return append(levelColumns(&l.Level), column{"fixed_nm", array(&l.Fixed)})
}

func rackLevelsOf(r *structure.Rack) *[]structure.Level { return &r.Levels }

func writeRacks(w *writer, racks []structure.Rack) {
	types, rows := splitTypes(racks)
	writeRackTypes(w, types)
	writeAll(w, "racks", planRackColumns, rows)
	write(w, "rack_levels", childOf(rackLevelColumns), children(racks, rackLevelsOf))
}

func readRacks(r *reader) []structure.Rack {
	types := readRackTypes(r)
	racks := joinTypes(types, read(r, "racks", planRackColumns))
	adopt(racks, read(r, "rack_levels", childOf(rackLevelColumns)), rackLevelsOf)
	return racks
}

// splitTypes lists each rack type once, in the order of its first rack.
func splitTypes(racks []structure.Rack) (types []plant.RackType, rows []rack) {
	known := map[*plant.RackType]int32{}
	for _, r := range racks {
		row := rack{Rack: r}
		if r.Type != nil {
			ordinal := known[r.Type]
			if ordinal == 0 {
				types, ordinal = addType(types, r.Type)
				known[r.Type] = ordinal
			}
			row.Type = &ordinal
		}
		rows = append(rows, row)
	}
	return types, rows
}

// addType returns the ordinal of t, appending it where no equal one is there.
func addType(types []plant.RackType, t *plant.RackType) ([]plant.RackType, int32) {
	for i := range types {
		if types[i].RackType == t.RackType && reflect.DeepEqual(types[i], *t) {
			return types, int32(i + 1)
		}
	}
	return append(types, *t), int32(len(types) + 1)
}

func joinTypes(types []plant.RackType, rows []rack) []structure.Rack {
	var racks []structure.Rack
	for _, row := range rows {
		if row.Type != nil {
			row.Rack.Type = &types[*row.Type-1]
		}
		racks = append(racks, row.Rack)
	}
	return racks
}

func laneColumns(l *placement.Lane) []column {
	return append(keyColumns(&l.Loop), []column{
		{"rack", &l.Rack}, {"level", &l.Level}, {"lane", &l.Lane}, {"kind", &l.Kind},
		{"offset_nm", &l.Offset}, {"width_nm", &l.Width}, {"flow_side", &l.Side},
		{"capacity", &l.Capacity}, {"containers", &l.Containers},
	}...)
}

func unplacedColumns(u *placement.Unplaced) []column {
	return append(keyColumns(&u.Loop), []column{
		{"containers", &u.Containers}, {"reason", &u.Reason}, {"detail", &u.Detail},
	}...)
}

func boundColumns(b *placement.Bound) []column {
	return []column{
		{"cell", &b.Cell}, {"unplaced", &b.Unplaced}, {"unplaced_bound", &b.UnplacedBound},
		{"added_cost", &b.AddedCost}, {"added_cost_bound", &b.AddedCostBound},
		{"effort", &b.Effort}, {"effort_bound", &b.EffortBound},
		{"optimal", &b.Optimal}, {"stopped", &b.Stopped},
	}
}

func balanceColumns(b *placement.Balance) []column {
	return []column{
		{"cell", &b.Cell}, {"width_nm", &b.Width}, {"needed", &b.Needed},
		{"placed", &b.Placed}, {"room", &b.Room},
	}
}

func moveColumns(m *placement.Move) []column {
	columns := []column{
		{"part", &m.Part}, {"cell", &m.Cell}, {"station", &m.Station}, {"containers", &m.Containers},
	}
	columns = append(columns, spotColumns("from", &m.From)...)
	return append(columns, spotColumns("to", &m.To)...)
}

func stepColumns(m *placement.Step) []column {
	columns := []column{
		{"cell", &m.Cell}, {"day", &m.Day}, {"shift", &m.Shift}, {"step", &m.Step}, {"kind", &m.Kind},
		{"part", &m.Part}, {"station", &m.Station}, {"containers", &m.Containers}, {"time_ns", &m.Time},
	}
	columns = append(columns, spotColumns("from", &m.From)...)
	return append(columns, spotColumns("to", &m.To)...)
}

func spotColumns(prefix string, s **placement.Spot) []column {
	return []column{
		{prefix + "_rack", optional(s, func(s *placement.Spot) *special { return words(&s.Rack) })},
		{prefix + "_level", optional(s, func(s *placement.Spot) *special { return whole(&s.Level) })},
		{prefix + "_lane", optional(s, func(s *placement.Spot) *special { return whole(&s.Lane) })},
	}
}
