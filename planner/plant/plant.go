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
	// Kits are what the plant builds its racks from; empty where the sheets give
	// none, and then the shipped ones serve.
	Kits []Kit
	// StockOnHand is what lies in the store to cut racks from.
	StockOnHand []StockBar
	// Turns, CurrentRoutes and RouteRules are optional sheets of their own.
	Turns         []Turn
	CurrentRoutes []CurrentStop
	RouteRules    []RouteRule
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
	// Measure says what the service level promises.
	Measure ServiceMeasure
	// ShortagesPerYear is how many shortages a loop may have in a year of work,
	// above 0; it counts where Measure is ServicePerYear.
	ShortagesPerYear units.Ratio
	// Safety is the policy variable alpha of steady loops, 0 or more.
	Safety units.Ratio
	// History says what the History sheet decides.
	History HistoryUse
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
	// WeeksPerYear is how many weeks of the year are worked, above 0, at most
	// MostWeeks.
	WeeksPerYear units.Ratio
	Prices       Prices
	// Seed starts every random stream.
	Seed   uint64
	Origin finding.Origin
}

// ServiceMeasure says what a service level promises of a loop.
type ServiceMeasure string

// Service measures. They differ for loops whose use varies; a steady loop covers
// its use and its safety, whatever the measure.
const (
	// ServicePerCycle: the service level is the chance that a refill cycle passes
	// with no shortage.
	ServicePerCycle ServiceMeasure = "cycle"
	// ServicePerYear: the loop may run short so many times in a year of work; the
	// chance for each cycle follows from the number of cycles in it.
	ServicePerYear ServiceMeasure = "year"
	// ServiceFillRate: the service level is the share of pieces that are there
	// when they are wanted.
	ServiceFillRate ServiceMeasure = "fill"
)

// ServiceMeasures lists the measures, the default first.
func ServiceMeasures() []ServiceMeasure {
	return []ServiceMeasure{ServicePerCycle, ServicePerYear, ServiceFillRate}
}

// MostWeeks is how many weeks a year can have a working day in.
const MostWeeks = 53

// HistoryUse says what the History sheet decides beside the loops that ask for
// the empirical model, which always read it.
type HistoryUse string

// Uses of the history of products and parts that have days enough.
const (
	// HistoryOnRequest: nothing else.
	HistoryOnRequest HistoryUse = "empirical"
	// HistoryVariation: the variation of a product or part whose row gives none.
	HistoryVariation HistoryUse = "variation"
	// HistoryAll: the mean and the variation, whatever the row gives.
	HistoryAll HistoryUse = "all"
)

// HistoryUses lists the uses, the default first.
func HistoryUses() []HistoryUse {
	return []HistoryUse{HistoryOnRequest, HistoryVariation, HistoryAll}
}

// Prices are what a plan costs, in the plant's currency; 0 is not known.
type Prices struct {
	// HandlerHour is one handler for one hour of work.
	HandlerHour units.Money
	// VehicleYear is one vehicle for a year.
	VehicleYear units.Money
	// RackYears is the number of years over which a rack is written off; above 0.
	RackYears units.Ratio
	// FloorYear is one square metre of floor for a year.
	FloorYear units.Money
	// StockInterest is what holding stock costs in a year, as a share of its value.
	StockInterest units.Ratio
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
		Interval:         60 * time.Minute,
		ServiceLevel:     units.R(995, 1000),
		Measure:          ServicePerCycle,
		History:          HistoryOnRequest,
		ShortagesPerYear: units.Int(1),
		WeeksPerYear:     units.Int(48),
		Prices:           Prices{RackYears: units.Int(10)},
		IntervalChoices:  minutes,
		SideClearance:    10 * units.Millimetre,
		GuideWidth:       10 * units.Millimetre,
		HandClearance:    60 * units.Millimetre,
		FillLimit:        units.Int(1),
		LoadLimit:        units.R(90, 100),
		BusyLimit:        units.R(85, 100),
		Seed:             1,
	}
}
