package plant

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"reflect"
	"slices"
	"time"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Revision names the facts of p: the SHA-256, in hexadecimal, of everything in
// it but Origins and Columns, and what later versions added while it is at its
// default: facts that were stored before keep their name. The order of rows in a sheet changes nothing, and
// neither does the order in which a row lists codes. Levels, breaks and lane
// widths keep theirs, for there the order is a fact.
func Revision(p *Plant) string {
	sum := sha256.New()
	v := reflect.ValueOf(p).Elem()
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		if name == "Columns" || slices.Contains(addedSheets, name) && v.Field(i).Len() == 0 {
			continue
		}
		writeField(sum, name, v.Field(i))
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// writeField writes one field of the plant. The rows of a sheet are hashed one
// by one and written in the order of their hashes.
func writeField(sum hash.Hash, name string, v reflect.Value) {
	var w canonical
	w.text(name)
	if v.Kind() != reflect.Slice {
		w.value(v)
		sum.Write(w)
		return
	}
	rows := make([][sha256.Size]byte, v.Len())
	var row canonical
	for i := range rows {
		row = row[:0]
		row.value(v.Index(i))
		rows[i] = sha256.Sum256(row)
	}
	slices.SortFunc(rows, func(a, b [sha256.Size]byte) int { return bytes.Compare(a[:], b[:]) })
	w.number(int64(len(rows)))
	sum.Write(w)
	for _, r := range rows {
		sum.Write(r[:])
	}
}

// canonical is a serialisation in which no two different facts look alike:
// texts and lists start with their length, absent pointers with 0.
type canonical []byte

func (w *canonical) number(n int64) { *w = binary.BigEndian.AppendUint64(*w, uint64(n)) }

func (w *canonical) text(s string) {
	w.number(int64(len(s)))
	*w = append(*w, s...)
}

// Types that are written in a way of their own. Asking a field for its type
// copies nothing, asking what it holds copies a row of a hundred thousand.
var (
	originType   = reflect.TypeFor[finding.Origin]()
	settingsType = reflect.TypeFor[Settings]()
	pointType    = reflect.TypeFor[AislePoint]()
	aisleType    = reflect.TypeFor[Aisle]()
	vehicleType  = reflect.TypeFor[Vehicle]()
	ratioType    = reflect.TypeFor[units.Ratio]()
	timeType     = reflect.TypeFor[time.Time]()
)

// value writes v. It panics on a kind of field that no fact has.
func (w *canonical) value(v reflect.Value) {
	switch v.Type() {
	case originType:
		return
	case settingsType:
		w.settings(v)
		return
	case pointType, aisleType, vehicleType:
		w.row(v)
		return
	case ratioType:
		w.text(v.Interface().(units.Ratio).String())
		return
	case timeType:
		w.text(v.Interface().(time.Time).UTC().Format(time.RFC3339Nano))
		return
	}
	switch v.Kind() {
	case reflect.String:
		w.text(v.String())
	case reflect.Bool:
		w.truth(v.Bool())
	case reflect.Int, reflect.Int64:
		w.number(v.Int())
	case reflect.Uint64:
		w.number(int64(v.Uint()))
	case reflect.Pointer:
		w.pointer(v)
	case reflect.Struct:
		for i := range v.NumField() {
			w.value(v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		w.list(v)
	default:
		panic("plant: a fact of kind " + v.Kind().String())
	}
}

// addedSheets and addedColumns are the sheets, and the columns of sheets, that the
// first version did not have.
var (
	addedSheets  = []string{"Kits", "Turns", "CurrentRoutes", "RouteRules", "StockOnHand"}
	addedColumns = []string{"Places", "Traffic", "SingleFile", "NoTurning", "OnFoot", "Parking"}
)

// row writes the fields of v, an added one with its name and only where it says
// something.
func (w *canonical) row(v reflect.Value) {
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		switch added := slices.Contains(addedColumns, name); {
		case added && v.Field(i).IsZero():
			continue
		case added:
			w.text(name)
		}
		w.value(v.Field(i))
	}
}

// added are the settings that the first version did not have.
var added = []string{"Measure", "ShortagesPerYear", "History", "WeeksPerYear", "Prices"}

// settings writes an added setting with its name, and only where it is not at
// its default.
func (w *canonical) settings(v reflect.Value) {
	usual := reflect.ValueOf(DefaultSettings())
	for i := range v.NumField() {
		name := v.Type().Field(i).Name
		if !slices.Contains(added, name) {
			w.value(v.Field(i))
			continue
		}
		var is, was canonical
		is.value(v.Field(i))
		was.value(usual.Field(i))
		if !slices.Equal(is, was) {
			w.text(name)
			*w = append(*w, is...)
		}
	}
}

func (w *canonical) pointer(v reflect.Value) {
	if v.IsNil() {
		w.number(0)
		return
	}
	w.number(1)
	w.value(v.Elem())
}

// list writes a list inside a row; codes are put in order first.
func (w *canonical) list(v reflect.Value) {
	w.number(int64(v.Len()))
	if v.Type().Elem().Kind() != reflect.String {
		for i := range v.Len() {
			w.value(v.Index(i))
		}
		return
	}
	codes := make([]string, v.Len())
	for i := range codes {
		codes[i] = v.Index(i).String()
	}
	slices.SortFunc(codes, cmp.Compare[string])
	for _, c := range codes {
		w.text(c)
	}
}

func (w *canonical) truth(b bool) {
	if b {
		w.number(1)
		return
	}
	w.number(0)
}
