package value

import (
	"strings"

	"lanewright/planner/units"
)

// table holds the names of the units of one kind and what one of each is in
// the base unit of package units.
type table map[string]units.Ratio

func (t table) factor(unit string) (units.Ratio, bool) {
	f, ok := t[unitKey(unit)]
	return f, ok
}

// unitKey folds a name of a unit: "In.", "IN" and "in" are one.
func unitKey(unit string) string {
	key := strings.ReplaceAll(fold(unit), " ", "")
	return strings.TrimSuffix(strings.ReplaceAll(key, "''", `"`), ".")
}

// tableOf makes a table from lists of names.
func tableOf(rows ...unitNames) table {
	t := table{}
	for _, r := range rows {
		for name := range strings.FieldsSeq(r.names) {
			t[unitKey(name)] = r.factor
		}
	}
	return t
}

// unitNames are the names of one unit in English, German, Spanish and French.
type unitNames struct {
	factor units.Ratio
	names  string
}

// Names that mean different units in different places (ton, m for minutes)
// are left out: they are reported, not guessed.
var (
	lengths = tableOf(
		unitNames{units.Int(1000), "um µm μm"},
		unitNames{units.Int(int64(units.Millimetre)), "mm millimetre millimetres millimeter millimeters milímetro milímetros millimètre millimètres"},
		unitNames{units.Int(int64(units.Centimetre)), "cm centimetre centimetres centimeter centimeters zentimeter centímetro centímetros centimètre centimètres"},
		unitNames{units.Int(int64(10 * units.Centimetre)), "dm decimetre decimetres decimeter decimeters dezimeter"},
		unitNames{units.Int(int64(units.Metre)), "m metre metres meter meters mtr mtrs metro metros mètre mètres"},
		unitNames{units.Int(int64(1000 * units.Metre)), "km kilometre kilometres kilometer kilometers"},
		unitNames{units.Int(int64(units.Inch)), `in inch inches " zoll pulgada pulgadas pulg pouce pouces`},
		unitNames{units.Int(int64(units.Foot)), "ft foot feet ' fuß fuss pie pies pied pieds"},
		unitNames{units.Int(int64(units.Yard)), "yd yds yard yards"},
	)
	masses = tableOf(
		unitNames{units.Int(1000), "mg milligram milligrams milligramm"},
		unitNames{units.Int(int64(units.Gram)), "g gr grs gram grams gramme grammes gramm gramo gramos"},
		unitNames{units.Int(int64(units.Kilogram)), "kg kgs kilo kilos kilogram kilograms kilogramm kilogramme kilogrammes kilogramo kilogramos"},
		unitNames{units.Int(int64(units.Tonne)), "t tonne tonnes tonnen tonelada toneladas"},
		unitNames{units.Int(int64(units.Pound)), "lb lbs pound pounds libra libras livre livres"},
		unitNames{units.OunceRatio, "oz ounce ounces unze unzen onza onzas once onces"},
	)
	durations = tableOf(
		unitNames{units.Int(1e6), "ms msec"},
		unitNames{units.Int(1e9), "s sec secs second seconds sek sekunde sekunden segundo segundos seg seconde secondes"},
		unitNames{units.Int(60e9), "min mins minute minutes minuten minuto minutos mn"},
		unitNames{units.Int(3600e9), "h hr hrs hour hours std stunde stunden hora horas heure heures"},
		unitNames{units.Int(24 * 3600e9), "d day days tag tage tagen día días jour jours"},
	)
	speeds = tableOf(
		unitNames{units.Int(int64(units.MetrePerSecond)), "m/s mps m/sec ms-1"},
		unitNames{units.R(int64(units.MetrePerSecond), 60), "m/min mpm"},
		unitNames{units.R(int64(units.MetrePerSecond), 1000), "mm/s mm/sec"},
		unitNames{units.R(int64(units.MetrePerSecond)*10, 36), "km/h kmh kph km/hr"},
		unitNames{units.Int(int64(units.Foot)), "ft/s fps ft/sec"},
		unitNames{units.R(int64(units.Foot), 60), "ft/min fpm"},
		unitNames{units.R(int64(5280*units.Foot), 3600), "mph mi/h"},
	)
	stresses = tableOf(
		unitNames{units.Int(1), "pa n/m2 n/m²"},
		unitNames{units.Int(int64(units.Megapascal)), "mpa n/mm2 n/mm²"},
		unitNames{units.Int(int64(units.Gigapascal)), "gpa kn/mm2 kn/mm²"},
		unitNames{units.PSIRatio, "psi lbf/in2"},
		unitNames{units.PSIRatio.Mul(units.Int(1000)), "ksi"},
	)
)

// KnownLength reports whether unit is a name of a unit of length.
func KnownLength(unit string) bool { return lengths.has(unit) }

// KnownMass reports whether unit is a name of a unit of mass.
func KnownMass(unit string) bool { return masses.has(unit) }

// KnownDuration reports whether unit is a name of a unit of time.
func KnownDuration(unit string) bool { return durations.has(unit) }

// KnownSpeed reports whether unit is a name of a unit of speed.
func KnownSpeed(unit string) bool { return speeds.has(unit) }

// KnownStress reports whether unit is a name of a unit of stress.
func KnownStress(unit string) bool { return stresses.has(unit) }

// KnownCount reports whether unit is a word for pieces behind a count.
func KnownCount(unit string) bool { return isCountWord(unit) }

// Known reports whether unit is a name of a unit of any kind, or the sign or a
// word for percentages or counts.
func Known(unit string) bool {
	return KnownLength(unit) || KnownMass(unit) || KnownDuration(unit) || KnownSpeed(unit) || KnownStress(unit) ||
		isPercentWord(unit) || isCountWord(unit) || isCurrency(unit)
}

func isPercentWord(unit string) bool {
	key := fold(unit)
	return key == "%" || key == "percent" || key == "per cent" || key == "pct" || key == "prozent"
}

func (t table) has(unit string) bool {
	_, ok := t.factor(unit)
	return ok
}

// longestHeading is the length in bytes beyond which a text is no heading.
const longestHeading = 500

// UnitOf takes the unit from a heading: "Length (mm)", "Length [in]", "Piece
// mass, kg" and "Length / mm" have one. A unit in brackets is returned even
// when nobody knows it, so that it can be reported; without brackets only a
// known one is taken, and the name keeps everything else.
func UnitOf(heading string) (name, unit string) {
	text := strings.Join(strings.Fields(heading), " ")
	if len(text) > longestHeading {
		return text, ""
	}
	if name, unit, ok := bracketed(text); ok {
		return name, unit
	}
	if i := strings.LastIndex(text, ","); i > 0 && Known(text[i+1:]) {
		return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
	}
	if i := strings.IndexByte(text, '/'); i > 0 && isMeasure(text[i+1:]) {
		return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
	}
	return text, ""
}

// isMeasure reports whether a unit may stand behind a slash: Pieces/h and
// Cost/EUR would be rates, Length/mm is not.
func isMeasure(unit string) bool { return KnownLength(unit) || KnownMass(unit) || KnownSpeed(unit) }

// bracketed finds a unit in brackets: the last known one, else what stands in
// brackets at the end.
func bracketed(text string) (name, unit string, ok bool) {
	rest := text
	for i := strings.LastIndexAny(rest, "([{"); i >= 0; i = strings.LastIndexAny(rest, "([{") {
		n := strings.IndexAny(text[i:], ")]}")
		if n > 0 {
			inside := strings.TrimSpace(text[i+1 : i+n])
			outside := strings.Join(strings.Fields(text[:i]+" "+text[i+n+1:]), " ")
			atEnd := i+n+1 == len(text)
			if Known(inside) && outside != "" {
				return outside, inside, true
			}
			if atEnd && outside != "" && inside != "" {
				name, unit, ok = outside, inside, true
			}
		}
		rest = rest[:i]
	}
	return name, unit, ok
}
