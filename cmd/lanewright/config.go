package main

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"
)

// envKey marks the options that the environment may give.
const envKey = "lanewright-env"

// fromEnvironment lets the environment give the named options: --tls-cert is
// LANEWRIGHT_TLS_CERT. An option on the command line wins over the
// environment, the environment over the default.
func fromEnvironment(flags *pflag.FlagSet, names ...string) {
	for _, name := range names {
		f := flags.Lookup(name)
		vars := []string{"LANEWRIGHT_" + strings.ToUpper(strings.ReplaceAll(name, "-", "_"))}
		if name == "database" {
			vars = append(vars, "DATABASE_URL")
		}
		f.Annotations = map[string][]string{envKey: vars}
		f.Usage += " [" + strings.Join(vars, ", ") + "]"
	}
}

// configure gives options that the command line left out the value the
// environment has for them.
func (p *program) configure(flags *pflag.FlagSet) error {
	var first error
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Changed {
			return
		}
		for _, name := range f.Annotations[envKey] {
			value, ok := p.env(name)
			if !ok || value == "" {
				continue
			}
			if err := flags.Set(f.Name, value); err != nil && first == nil {
				first = fmt.Errorf("the environment variable %s: %w", name, err)
			}
			return
		}
	})
	return first
}
