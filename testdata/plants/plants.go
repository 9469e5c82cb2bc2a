// Package plants holds whole made-up plants as workbooks, for the demo and for
// tests.
package plants

import _ "embed"

// Skerrow is the workbook of Skerrow Lantern Works, which builds marine
// navigation lanterns and buoy lights; SkerrowName is its file name. The
// command "lanebench skerrow" writes it anew.
//
//go:embed skerrow/skerrow.xlsx
var Skerrow []byte

// SkerrowName is the file name of Skerrow.
const SkerrowName = "skerrow.xlsx"
