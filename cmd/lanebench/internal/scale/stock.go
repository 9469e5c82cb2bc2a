package scale

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// shifts are two shifts of 450 net minutes.
func shifts() []plant.Shift {
	week := [7]bool{time.Monday: true, time.Tuesday: true, time.Wednesday: true, time.Thursday: true, time.Friday: true}
	at := func(h, m int) time.Duration { return time.Duration(h)*time.Hour + time.Duration(m)*time.Minute }
	pause := func(h, m, long int) plant.Break {
		return plant.Break{Start: at(h, m), Length: time.Duration(long) * time.Minute}
	}
	return []plant.Shift{
		{Shift: "early", Days: week, Start: at(6, 0), End: at(14, 15), Breaks: []plant.Break{pause(9, 0, 15), pause(12, 0, 30)}},
		{Shift: "late", Days: week, Start: at(14, 15), End: at(22, 30), Breaks: []plant.Break{pause(17, 0, 15), pause(19, 30, 30)}},
	}
}

// boxKind is a container with how many pieces it may sensibly hold.
type boxKind struct {
	plant.Container
	least, most int64
}

// boxes are small load carriers in the outside measures of the common series
// (594x396, 396x297 and 297x198 mm), cartons that do not come back, and totes
// measured in inches.
func boxes() []boxKind {
	return []boxKind{
		box("SLC-64-28", "Small load carrier, large and high", [3]string{"594", "396", "280"}, "2.9", "20", true, 4, 60),
		box("SLC-64-15", "Small load carrier, large and low", [3]string{"594", "396", "147.5"}, "1.9", "20", true, 6, 120),
		box("SLC-43-28", "Small load carrier, middle and high", [3]string{"396", "297", "280"}, "1.9", "20", true, 6, 150),
		box("SLC-43-15", "Small load carrier, middle and low", [3]string{"396", "297", "147.5"}, "1.25", "20", true, 8, 300),
		box("SLC-32-15", "Small load carrier, small", [3]string{"297", "198", "147.5"}, "0.57", "20", true, 10, 800),
		box("TOTE-15", "Tote 15 x 12 x 7.5 in", [3]string{"381", "304.8", "190.5"}, "1.3", "18", true, 8, 250),
		box("CTN-4", "Carton 400 x 300", [3]string{"400", "300", "200"}, "0.35", "15", false, 8, 200),
		box("CTN-3", "Carton 300 x 200", [3]string{"300", "200", "150"}, "0.2", "12", false, 20, 1000),
	}
}

func box(code, text string, size [3]string, empty, limit string, back bool, least, most int64) boxKind {
	c := plant.Container{
		Container: plant.ContainerCode(code), Description: text,
		Length: mm(size[0]), Width: mm(size[1]), Height: mm(size[2]),
		EmptyMass: kg(empty), GrossLimit: kg(limit), Returnable: back,
		FlowSide: plant.EitherAlong, Handles: plant.GoodHandles, Nests: units.Int(1),
	}
	switch {
	case !back:
		c.Handles = plant.PoorHandles
	case c.Height < 200*units.Millimetre:
		c.Nests = units.R(2, 5) // the low ones fold
	}
	return boxKind{c, least, most}
}

func containers() []plant.Container {
	var list []plant.Container
	for _, b := range boxes() {
		list = append(list, b.Container)
	}
	return list
}

// rackTypes are three widths of one design: a return level below three supply
// levels, sloped 4.5 %.
func rackTypes() []plant.RackType {
	return []plant.RackType{
		rackType("FR-12", 1250, 1500, 900),
		rackType("FR-18", 1850, 1500, 1150),
		rackType("FR-24", 2450, 1850, 1500),
	}
}

func rackType(code plant.RackTypeCode, width, depth, cost int64) plant.RackType {
	lane := depth - 100
	drop := lane * 45 / 1000
	level := func(n int, kind plant.LevelKind, pick, drop int64) plant.Level {
		return plant.Level{
			Level: n, Kind: kind, PickHeight: whole(pick), Drop: whole(drop),
			LaneLength: whole(lane), UsableWidth: whole(width - 80), ClearHeight: whole(345),
			MassLimit: units.Mass(width/5) * units.Kilogram,
		}
	}
	return plant.RackType{
		RackType: code, Width: whole(width), Depth: whole(depth), Height: whole(2000),
		OwnMass: units.Mass(width/20) * units.Kilogram, MassLimit: 1000 * units.Kilogram,
		Cost: units.Money(cost) * units.Unit, Kit: "tube-28",
		Levels: []plant.Level{
			level(1, plant.Return, 380, -drop), level(2, plant.Supply, 740, drop),
			level(3, plant.Supply, 1110, drop), level(4, plant.Supply, 1480, drop),
		},
	}
}

func vehicle(code string, from plant.PointCode, count, containers int, limit int64) plant.Vehicle {
	return plant.Vehicle{
		Vehicle: plant.VehicleCode(code), Count: count, Containers: containers, MassLimit: units.Mass(limit) * units.Kilogram,
		Speed: units.MetrePerSecond * 3 / 2, StopTime: 20 * time.Second,
		LoadTime: 6 * time.Second, UnloadTime: 7 * time.Second, EmptyTime: 3 * time.Second, From: from,
	}
}

func whole(n int64) units.Length { return units.Length(n) * units.Millimetre }

// mm and kg read constants of this file.
func mm(s string) units.Length {
	l, _ := units.Lengths(units.MustRatio(s), units.Millimetre)
	return l
}

func kg(s string) units.Mass {
	m, _ := units.Masses(units.MustRatio(s), units.Int(int64(units.Kilogram)))
	return m
}
