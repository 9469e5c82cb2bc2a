package importers
import ("testing";"context";"fmt";"os")
func TestScratch(t *testing.T) {
	path := os.Getenv("SCRATCH")
	r, err := ReadFiles(context.Background(), path)
	if err != nil { t.Fatal(err) }
	for _, l := range r.Sheets { fmt.Printf("%+v\n", l) }
	for _, f := range r.Findings { fmt.Println(f.Severity, f.Code, f.Origin, f.Summary, "|", f.Detail, "|", f.Remedy) }
	fmt.Printf("%+v\n", r.Plant.Settings)
	fmt.Println(len(r.Plant.Usage), len(r.Plant.Parts), len(r.Plant.Stations))
}
