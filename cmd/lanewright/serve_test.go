package main

import (
	"io"
	"net"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestIsLoopback(t *testing.T) {
	t.Parallel()
	cases := map[string]bool{
		"127.0.0.1:8080": true, "127.9.9.9:80": true, "[::1]:8080": true, "localhost:1": true,
		":8080": false, "0.0.0.0:8080": false, "[::]:8080": false, "10.0.0.7:80": false, "plant.example:80": false, "nonsense": false,
	}
	for addr, want := range cases {
		assert.Equal(t, want, isLoopback(addr), addr)
	}
}

// A port that is taken is a sentence where it was asked for, and another port
// where it was not.
func TestListen(t *testing.T) {
	t.Parallel()
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	_, err = listen(t.Context(), taken.Addr().String())
	require.ErrorContains(t, err, "can't listen on "+taken.Addr().String())
	require.ErrorContains(t, err, "--addr names another address")

	p := &program{err: io.Discard}
	first, err := p.demoListener(t.Context(), "")
	require.NoError(t, err)
	defer first.Close()
	second, err := p.demoListener(t.Context(), "")
	require.NoError(t, err)
	defer second.Close()
	assert.NotEqual(t, first.Addr().String(), second.Addr().String())
	for _, l := range []net.Listener{first, second} {
		assert.True(t, strings.HasPrefix(l.Addr().String(), "127.0.0.1:"))
	}
	_, err = p.demoListener(t.Context(), taken.Addr().String())
	require.Error(t, err, "an address that was asked for is not changed")
}

func TestHome(t *testing.T) {
	t.Parallel()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	assert.Equal(t, "http://"+l.Addr().String()+"/", serveOptions{}.home(l))
	all, err := net.Listen("tcp", ":0")
	require.NoError(t, err)
	defer all.Close()
	assert.True(t, strings.HasPrefix(serveOptions{}.home(all), "http://localhost:"))
	assert.Equal(t, "https://"+l.Addr().String()+"/", serveOptions{cert: "c", key: "k"}.home(l))
}
