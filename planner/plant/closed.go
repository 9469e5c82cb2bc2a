package plant

// Closed returns a function that tells whether a rule closes the aisle between
// two points, in either direction.
func (p *Plant) Closed() func(a, b PointCode) bool {
	closed := map[way]bool{}
	for _, r := range p.RouteRules {
		if r.Kind == RuleClosed && r.Complete() {
			closed[wayOf(r.From, r.To)] = true
		}
	}
	return func(a, b PointCode) bool { return closed[wayOf(a, b)] }
}
