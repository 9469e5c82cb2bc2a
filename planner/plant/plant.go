// Package plant holds the facts of a factory as its sheets state them: parts,
// containers, products, cells, stations, racks, aisles, vehicles, shifts. It
// holds no decision and nothing derived except what Check reports.
//
// Codes compare exactly: the importers have already made codes that differ
// only in case or surrounding space into one.
package plant

import (
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

type (
	// PartCode and the types below are codes: text that keeps what the sheet
	// shows.
	PartCode string
	// ContainerCode names a container.
	ContainerCode string
	// ProductCode names a product.
	ProductCode string
	// CellCode names a cell.
	CellCode string
	// StationCode names a station; it is unique within its cell only.
	StationCode string
	// RackTypeCode names a rack type.
	RackTypeCode string
	// RackCode names a rack.
	RackCode string
	// PointCode names an aisle point.
	PointCode string
	// VehicleCode names a vehicle type.
	VehicleCode string
	// ShiftCode names a shift.
	ShiftCode string
)

// Plant is everything a plant handed in: one revision of its facts.
type Plant struct {
	Name        string
	Settings    Settings
	Shifts      []Shift
	Products    []Product
	Usage       []Usage
	History     []History
	Parts       []Part
	Containers  []Container
	Cells       []Cell
	Stations    []Station
	RackTypes   []RackType
	Racks       []Rack
	AislePoints []AislePoint
	Aisles      []Aisle
	Vehicles    []Vehicle
	Current     []CurrentLane
	Pins        []Pin
	// Columns says where each field of each sheet stood, so that an origin
	// that names a row can be narrowed to a cell.
	Columns []Column
}

// Column records that a canonical column of workbook.md stood under a heading.
type Column struct {
	File, Sheet string
	// Field is the canonical column name, "Standard pack".
	Field string
	// Letters is the column as a spreadsheet shows it, "C".
	Letters string
	// Heading is the text that was found there, "Qty/Box".
	Heading string
}

// Settings are the rows of the Plant sheet.
type Settings struct {
	// LengthUnit and MassUnit are the units in which the plant's people read
	// and write ("mm", "in", "kg", "lb"...); reports use them.
	LengthUnit, MassUnit string
	// TimeZone is an IANA name.
	TimeZone string
	// Interval is the refill interval where a row gives none.
	Interval time.Duration
	// Response is the time from collecting a signal to the full container at
	// the lane, in net minutes; 0 means each loop's own refill interval.
	Response time.Duration
	// ServiceLevel is the chance, 0 < p < 1, that a refill cycle passes with
	// no shortage.
	ServiceLevel units.Ratio
	// Safety is the policy variable alpha of steady loops, 0 or more.
	Safety units.Ratio
	// IntervalChoices are the intervals the planner may choose from, rising.
	IntervalChoices []time.Duration
	// SideClearance stands on each side of a container in its lane;
	// GuideWidth between two neighbouring lanes; HandClearance above a
	// container at the pick edge.
	SideClearance, GuideWidth, HandClearance units.Length
	// RollerPitch is the distance of the plant's rollers; 0 is not known and
	// not checked.
	RollerPitch units.Length
	// FillLimit is the share (0 < s <= 1) of a level's usable width that a
	// plan may fill on racks it proposes or opens.
	FillLimit units.Ratio
	// LoadLimit is the share (0 < s <= 1) of a vehicle's capacity that may be
	// planned; BusyLimit the share of the interval that a round may fill.
	LoadLimit, BusyLimit units.Ratio
	// Seed starts every random stream.
	Seed   uint64
	Origin finding.Origin
}

// DefaultSettings are the defaults of the Plant sheet. They are common
// practice, no source, except where a field's comment names one.
func DefaultSettings() Settings {
	minutes := []time.Duration{15, 20, 30, 40, 60, 90, 120}
	for i := range minutes {
		minutes[i] *= time.Minute
	}
	return Settings{
		LengthUnit: "mm", MassUnit: "kg", TimeZone: "UTC",
		Interval:        60 * time.Minute,
		ServiceLevel:    units.R(995, 1000),
		IntervalChoices: minutes,
		SideClearance:   10 * units.Millimetre,
		GuideWidth:      10 * units.Millimetre,
		HandClearance:   60 * units.Millimetre,
		FillLimit:       units.Int(1),
		LoadLimit:       units.R(90, 100),
		BusyLimit:       units.R(85, 100),
		Seed:            1,
	}
}
