package importers

// settle goes through the facts whose rows were read well. Those that resolve
// takes are used; of the others it has said why not.
func settle[T any](list *factsOf[T], resolve func(*T, *row) bool, add func(T)) {
	for f := range list.all() {
		if f.row.state == reported {
			continue
		}
		if v := f.v; resolve(&v, f.row) {
			f.row.state = used
			add(v)
		}
	}
}

// define goes through the facts that define a code in b, bad rows too, for
// others may name them. resolve, where there is one, turns what a good row
// names into the spelling of the plant.
func define[T any, C ~string](j *joiner, list *factsOf[T], b *codebook, field string, code func(*T) *C, resolve func(*T, *row), add func(T)) {
	for f := range list.all() {
		v := f.v
		if resolve != nil && f.row.state != reported {
			resolve(&v, f.row)
		}
		at := code(&v)
		if known, ok := j.enter(b, f.row, field, "", string(*at)); ok {
			*at = C(known)
			add(v)
		}
	}
}

// into adds to a list of the plant.
func into[T any](list *[]T) func(T) {
	return func(v T) { *list = append(*list, v) }
}

// named resolves a code that r names in field: it becomes that of the thing it
// names. When there is no such thing, it becomes blank and the row is left out
// with an error.
func named[T ~string](j *joiner, b *codebook, r *row, field, scope string, code *T, unknown string) bool {
	found, ok := j.ref(b, r, field, scope, string(*code), unknown)
	*code = T(found)
	return ok
}

// maybe is named for a code that may be blank.
func maybe[T ~string](j *joiner, b *codebook, r *row, field, scope string, code *T, unknown string) bool {
	if trim(string(*code)) == "" {
		*code = ""
		return true
	}
	return named(j, b, r, field, scope, code, unknown)
}

// weakly is named for rows that the plan can do without: a warning.
func weakly[T ~string](j *joiner, b *codebook, r *row, field, scope string, code *T, unknown string) bool {
	found, ok := j.weakRef(b, r, field, scope, string(*code), unknown)
	*code = T(found)
	return ok
}
