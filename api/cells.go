package api

import (
	"context"

	"lanewright/api/wire"
)

// CellInput names a cell in an address.
type CellInput struct {
	PlanInput
	Cell string `path:"cell" maxLength:"200" doc:"code of the cell"`
}

func (s *server) listCells(ctx context.Context, in *PlanPage) (*output[wire.Page[wire.Cell]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	cells, err := v.cells()
	if err != nil {
		return nil, err
	}
	return page(v, cells, in.PageInput)
}

// page answers with a page of a list of a plan.
func page[T any](v *view, list []T, in PageInput) (*output[wire.Page[T]], error) {
	return pageOf(v.tag, list, in)
}

// pageOf answers with a page of a list that belongs to a tag.
func pageOf[T any](tag string, list []T, in PageInput) (*output[wire.Page[T]], error) {
	p, err := cut(list, in)
	if err != nil {
		return nil, err
	}
	return tagged(tag, p), nil
}

func (s *server) getCell(ctx context.Context, in *CellInput) (*output[wire.Cell], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	c, err := v.cell(in.Cell)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, c), nil
}

// cell finds one cell.
func (v *view) cell(code string) (wire.Cell, error) {
	cells, err := v.cells()
	if err != nil {
		return wire.Cell{}, err
	}
	for _, c := range cells {
		if c.Cell == code {
			return c, nil
		}
	}
	return wire.Cell{}, missing("cell", code)
}

type cellPage struct {
	CellInput
	PageInput
}

func (s *server) cellLanes(ctx context.Context, in *cellPage) (*output[wire.Page[wire.Lane]], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	if _, err := v.cell(in.Cell); err != nil {
		return nil, err
	}
	return page(v, filter(v.doc.Lanes, func(l wire.Lane) bool { return v.home[l.Rack] == in.Cell }), in.PageInput)
}
