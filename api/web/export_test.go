package web

// Addresses lists the addresses of all pages, for the tests in a browser.
func Addresses() (list []string) {
	for _, p := range pages {
		list = append(list, p.address)
	}
	return list
}
