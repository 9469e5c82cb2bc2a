package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"

	"lanewright/storage/embedded"
	"lanewright/testdata/plants"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"lanewright": main})
}

// TestScripts runs the program as people do; each script in testdata says
// what it shows.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		Setup:               setUp,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition:           condition,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "latin1": latin1, "change": change, "double": double},
	})
}

// setUp gives a script the made-up plant, and a directory that the database's
// own user may reach when the tests run as root.
func setUp(env *testscript.Env) error {
	if err := os.Chmod(filepath.Dir(env.WorkDir), 0o755); err != nil {
		return err
	}
	env.Setenv("SKERROW", filepath.Join(env.WorkDir, "skerrow.xlsx"))
	return os.WriteFile(env.Getenv("SKERROW"), plants.Skerrow, 0o600)
}

// condition knows [postgres]: what needs one is left out where there is none,
// but for the machines that check every change.
func condition(name string) (bool, error) {
	if name != "postgres" {
		return false, fmt.Errorf("unknown condition %q", name)
	}
	return embedded.Installed(context.Background()) == nil || os.Getenv("CI") != "", nil
}

// exits CODE COMMAND... runs a command and wants it to end with that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var ended *exec.ExitError
		if !errors.As(err, &ended) {
			ts.Fatalf("%v", err)
		}
		got = ended.ExitCode()
	}
	if got != want {
		ts.Fatalf("%v ended with %d, want %d", args[1:], got, want)
	}
}

// change FROM TO SHEET!CELL=VALUE... copies a workbook with other values in some cells.
func change(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: change FROM TO SHEET!CELL=VALUE...")
	}
	book, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	for _, arg := range args[2:] {
		at, value, _ := strings.Cut(arg, "=")
		sheet, cell, ok := strings.Cut(at, "!")
		if !ok {
			ts.Fatalf("%s: want SHEET!CELL=VALUE", arg)
		}
		ts.Check(book.SetCellValue(sheet, cell, value))
	}
	ts.Check(book.SaveAs(ts.MkAbs(args[1])))
}

// double FROM TO CELL copies a workbook with twice the usage in one cell.
func double(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: double FROM TO CELL")
	}
	book, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	rows, err := book.GetRows("Usage")
	ts.Check(err)
	changed := 0
	for i, row := range rows {
		for _, name := range []string{"Quantity per unit", "Pieces per hour"} {
			column := slices.Index(rows[0], name)
			if !slices.Contains(row, args[2]) || column >= len(row) || row[column] == "" {
				continue
			}
			amount, err := strconv.ParseFloat(row[column], 64)
			ts.Check(err)
			at, err := excelize.CoordinatesToCellName(column+1, i+1)
			ts.Check(err)
			ts.Check(book.SetCellValue("Usage", at, 2*amount))
			changed++
		}
	}
	if changed == 0 {
		ts.Fatalf("nothing is used in cell %s", args[2])
	}
	ts.Check(book.SaveAs(ts.MkAbs(args[1])))
}

// latin1 FROM TO writes a text in the encoding of old spreadsheet programs.
func latin1(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: latin1 FROM TO")
	}
	data, err := charmap.Windows1252.NewEncoder().String(ts.ReadFile(args[0]))
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(data), 0o600))
}
