package api

import (
	"context"
	"io"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/importers/column"
	"lanewright/importers/export"
)

// SheetKind is one kind of sheet that a plant's files may have.
type SheetKind struct {
	Kind    string       `json:"kind" doc:"canonical name"`
	Columns []KindColumn `json:"columns"`
}

// KindColumn is one column of a kind of sheet.
type KindColumn struct {
	Column   string   `json:"column" doc:"canonical name"`
	Required bool     `json:"required" doc:"the sheet can not be read without it"`
	Units    []string `json:"units" doc:"units that a mapping may say its values have"`
}

// unitsOf are units that people write, by what they measure.
var unitsOf = map[column.Holds][]string{
	column.Length:  {"mm", "cm", "m", "in", "ft"},
	column.Lengths: {"mm", "cm", "m", "in", "ft"},
	column.Mass:    {"g", "kg", "t", "oz", "lb"},
	column.Time:    {"s", "min", "h", "d"},
	column.Speed:   {"m/s", "m/min", "km/h", "ft/min", "mph"},
}

// listKinds says what sheets and columns there are.
func (s *server) listKinds(context.Context, *struct{}) (*output[[]SheetKind], error) {
	list := []SheetKind{}
	for _, k := range append(column.Sheets(), column.FlatTable()) {
		kind := SheetKind{Kind: k.Name}
		for _, c := range k.Columns {
			kind.Columns = append(kind.Columns, KindColumn{c.Field, c.Required, append([]string{}, unitsOf[column.HoldsOf(c.Field)]...)})
		}
		list = append(list, kind)
	}
	return current(list), nil
}

type templateInput struct {
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// template sends an empty workbook to fill in.
func (s *server) template(_ context.Context, in *templateInput) (*huma.StreamResponse, error) {
	return s.sendBook(tagOf(s.version), in.IfNoneMatch, "plant-template.xlsx", func(w io.Writer) error {
		return export.WriteXLSX(w, export.Template())
	})
}
