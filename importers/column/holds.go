package column

import (
	"strings"
	"sync"
)

// Holds says what stands in the cells of a column: how a value is read, and
// whether its digits tell the decimal mark of the file.
type Holds string

// What columns hold.
const (
	// Text is free text, Key a name that other rows may name, Keys a list
	// of them, Word one of a few words, Answer yes or no.
	Text   Holds = "text"
	Key    Holds = "key"
	Keys   Holds = "keys"
	Word   Holds = "word"
	Answer Holds = "answer"
	// Length, Mass, Time, Speed, Stress and Money have a unit, which heading,
	// cell or plant name.
	Length Holds = "length"
	Mass   Holds = "mass"
	Time   Holds = "time"
	Speed  Holds = "speed"
	Stress Holds = "stress"
	Money  Holds = "money"
	// Percent is a share in percent, Share one that may be a plain number too.
	Percent Holds = "percent"
	Share   Holds = "share"
	// Rate is a number of pieces or units that may have decimals, Number one
	// of anything else; Count is a whole number of things, Position one that
	// says which.
	Rate     Holds = "rate"
	Number   Holds = "number"
	Count    Holds = "count"
	Position Holds = "position"
	// Date is a day, Clock a time of day, Days weekdays.
	Date  Holds = "date"
	Clock Holds = "clock"
	Days  Holds = "days"
	// Lengths and Times are lists of them, Lanes the fixed lanes of a rack,
	// Anything the value of a setting, which says itself what it is.
	Lengths  Holds = "lengths"
	Times    Holds = "times"
	Lanes    Holds = "lanes"
	Anything Holds = "anything"
)

// holds lists the columns and settings of all sheets by what they hold. A
// name means the same in every sheet.
var holds = map[Holds]string{
	Text: "Description, Market address, Reason, Name, Area, Material, Plant name, Place",
	Key: `Part, Container, Cell, Station, Product, Rack type, Rack, Keep apart, Look-alike of, Shift, Kit, Aisle point, New rack aisle point,
		Point, From, To, From point, At point, To point, Vehicle type, From market, Parking, Route, Other rack, Setting`,
	Keys: "Shifts, Rack types allowed, Stations",
	Word: `Demand model, Pick hand, Flow side, Handles, Kind, Traffic, Hole walls, Uses, Shape, Rule, Time zone, Length unit, Mass unit,
		Service measure, History decides`,
	Answer: "Returnable, On casters, One way, Single file, Turn round, On foot, Allowed",
	Length: `Length, Width, Height, Frontage, New rack X, New rack Y, X, Y, Walk limit, Depth, Pick height, Drop, Lane length, Usable width,
		Clear height, Cut step, Kerf, Hole pitch, First hole, Hole diameter, Side clearance, Centre support, Wall, Corner radius, Pitch,
		Lane side clearance, Guide width, Hand clearance, Roller pitch`,
	Mass:   "Piece mass, Empty mass, Gross mass limit, Own mass, Mass limit, Mass, Mass per metre, Mass per foot",
	Time:   "Refill interval, Response time, Break minutes, Stop time, Load time, Unload time, Empty time, Interval",
	Speed:  "Speed, Speed limit",
	Stress: "Yield stress, Elastic modulus",
	Money:  "Unit cost, Cost, Price, Price per metre, Price per foot, Handler cost per hour, Vehicle cost per year, Floor cost per m2 and year",
	Percent: `Scrap, Service level, Safety, Return slope, Fill limit of levels, Load limit of a round, Busy limit of a handler,
		Stock interest`,
	Share:    "Variation, Nests",
	Rate:     "Units per day, Quantity per unit, Pieces per hour, Pieces per day, Units",
	Number:   "Shortages per year, Weeks per year, Rack life",
	Count:    "Standard pack, Containers, Count, Rollers under, Per joint, Places",
	Position: "Level, Lane, Order, Random seed",
	Date:     "Date",
	Clock:    "Start, End, Break start",
	Days:     "Days",
	Lengths:  "Stock lengths, Length x width x height",
	Times:    "Interval choices",
	Lanes:    "Fixed lanes",
	Anything: "Value",
}

// fieldHolds is that table by column.
var fieldHolds = sync.OnceValue(func() map[string]Holds {
	table := map[string]Holds{}
	for kind, fields := range holds {
		for field := range strings.SplitSeq(fields, ",") {
			table[strings.TrimSpace(field)] = kind
		}
	}
	return table
})

// HoldsOf returns what a column or setting holds, by its canonical name.
func HoldsOf(field string) Holds { return fieldHolds()[field] }

// IsAmount reports whether the cells hold one number each, with or without a
// unit, that may have decimals: their texts show which decimal mark a file
// uses.
func (h Holds) IsAmount() bool {
	switch h {
	case Length, Mass, Time, Speed, Stress, Money, Percent, Share, Rate, Number:
		return true
	}
	return false
}

// IsCounted reports whether the column itself says what is counted, so that a
// unit in its heading contradicts it.
func (h Holds) IsCounted() bool { return h == Rate || h == Count }
