package sheet

import (
	"context"
	"strconv"
)

// readStyles reads which number format each cell style has. A workbook
// without styles shows every number as it is.
func (w *workbook) readStyles(ctx context.Context) error {
	p, err := w.related("styles", "its styles")
	if err != nil || p == nil {
		return err
	}
	custom := map[int]numberFormat{}
	var ids []int
	err = w.archive.walk(ctx, p, func(names []string, s *scanner) error {
		switch {
		case len(ids) >= maxListed || len(custom) >= maxListed:
			return w.archive.tooLong(p)
		case !s.main:
		case at(names, "styleSheet", "numFmts", "numFmt"):
			if id, err := strconv.Atoi(attrText(s, "numFmtId")); err == nil {
				custom[id] = parseFormat(attrText(s, "formatCode"))
			}
		case at(names, "styleSheet", "cellXfs", "xf"):
			id, _ := strconv.Atoi(attrText(s, "numFmtId")) // an empty one means General
			ids = append(ids, id)
		}
		return nil
	})
	for _, id := range ids {
		f, ok := custom[id]
		if !ok {
			f = builtinFormat(id)
		}
		w.styles = append(w.styles, f)
	}
	return err
}
