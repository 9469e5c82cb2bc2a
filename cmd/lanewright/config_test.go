package main

import (
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestConfigure(t *testing.T) {
	t.Parallel()
	cases := map[string]struct {
		args []string
		env  map[string]string
		want string
	}{
		"default":                 {want: "none"},
		"environment":             {env: map[string]string{"LANEWRIGHT_DATABASE": "a"}, want: "a"},
		"the usual name too":      {env: map[string]string{"DATABASE_URL": "b"}, want: "b"},
		"own name before usual":   {env: map[string]string{"LANEWRIGHT_DATABASE": "a", "DATABASE_URL": "b"}, want: "a"},
		"empty is not given":      {env: map[string]string{"LANEWRIGHT_DATABASE": "", "DATABASE_URL": "b"}, want: "b"},
		"command line before all": {args: []string{"--database", "c"}, env: map[string]string{"DATABASE_URL": "b"}, want: "c"},
		"even an empty one":       {args: []string{"--database", ""}, env: map[string]string{"DATABASE_URL": "b"}, want: ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			flags := pflag.NewFlagSet("test", pflag.ContinueOnError)
			got := flags.String("database", "none", "the database")
			fromEnvironment(flags, "database")
			require.NoError(t, flags.Parse(c.args))
			p := &program{env: func(name string) (string, bool) { v, ok := c.env[name]; return v, ok }}
			require.NoError(t, p.configure(flags))
			assert.Equal(t, c.want, *got)
		})
	}
}

func TestConfigureNamesTheVariable(t *testing.T) {
	t.Parallel()
	flags := pflag.NewFlagSet("test", pflag.ContinueOnError)
	flags.Int("tls-depth", 0, "a number")
	fromEnvironment(flags, "tls-depth")
	assert.Contains(t, flags.Lookup("tls-depth").Usage, "[LANEWRIGHT_TLS_DEPTH]")
	p := &program{env: func(string) (string, bool) { return "deep", true }}
	require.ErrorContains(t, p.configure(flags), "the environment variable LANEWRIGHT_TLS_DEPTH")
}
