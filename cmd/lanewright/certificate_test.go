package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pair writes a certificate for this machine, good for a day from now on, and its key.
func pair(t *testing.T, name string) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	now := time.Now()
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: name}, DNSNames: []string{"localhost"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
		NotBefore: now.Add(-time.Minute), NotAfter: now.Add(24 * time.Hour), IsCA: true, BasicConstraintsValid: true,
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &private.PublicKey, private)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	require.NoError(t, err)
	folder := t.TempDir()
	write := func(file, kind string, body []byte) string {
		path := filepath.Join(folder, file)
		require.NoError(t, os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: body}), 0o600))
		return path
	}
	return write("plant.pem", "CERTIFICATE", der), write("plant.key", "PRIVATE KEY", secret)
}

func TestCertificate(t *testing.T) {
	t.Parallel()
	cert, key := pair(t, "a")
	_, other := pair(t, "b")
	none, err := serveOptions{}.certificate()
	require.NoError(t, err)
	assert.Nil(t, none)
	good, err := serveOptions{cert: cert, key: key}.certificate()
	require.NoError(t, err)
	assert.Empty(t, expiry(good, time.Now()))
	assert.Contains(t, expiry(good, time.Now().AddDate(0, 0, 3)), "ended on "+good.Leaf.NotAfter.Format(time.DateOnly))
	assert.Contains(t, expiry(good, time.Now().AddDate(0, 0, -3)), "begins on")
	for name, c := range map[string]struct{ cert, key, want string }{
		"no certificate":     {cert + "x", key, "can't read " + cert + "x"},
		"no key":             {cert, key + "x", "can't read " + key + "x"},
		"key of another one": {cert, other, "private key does not match public key"},
		"the two swapped":    {key, cert, "both are PEM files"},
	} {
		_, err := serveOptions{cert: c.cert, key: c.key}.certificate()
		require.ErrorContains(t, err, c.want, name)
	}
}

// TestServesHTTPS: with a certificate the pages and the API come over HTTPS, in HTTP/2, and nothing comes
// over plain HTTP.
func TestServesHTTPS(t *testing.T) {
	t.Parallel()
	o := serveOptions{}
	o.cert, o.key = pair(t, "a")
	loaded, err := o.certificate()
	require.NoError(t, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	server := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "safe") }), ReadHeaderTimeout: time.Second}
	done := make(chan error, 1)
	go func() { done <- answer(server, listener, loaded) }()
	roots := x509.NewCertPool()
	roots.AddCert(loaded.Leaf)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, MinVersion: tls.VersionTLS12}, ForceAttemptHTTP2: true}}
	got, err := client.Get(o.home(listener))
	require.NoError(t, err)
	body, err := io.ReadAll(got.Body)
	require.NoError(t, err)
	require.NoError(t, got.Body.Close())
	assert.Equal(t, "safe", string(body))
	assert.Equal(t, 2, got.ProtoMajor)
	plain, err := http.Get("http://" + listener.Addr().String() + "/")
	require.NoError(t, err)
	require.NoError(t, plain.Body.Close())
	assert.Equal(t, http.StatusBadRequest, plain.StatusCode)
	require.NoError(t, server.Close())
	require.NoError(t, <-done)
}

// TestServeSaysWhatIsWrongWithACertificate: before it opens an address or a database.
func TestServeSaysWhatIsWrongWithACertificate(t *testing.T) {
	t.Parallel()
	var out, said bytes.Buffer
	p := &program{out: &out, err: &said}
	o := serveOptions{addr: "127.0.0.1:0", threads: 1, cert: "nowhere.pem", key: "nowhere.key"}
	require.ErrorContains(t, p.serve(context.Background(), o), "can't read nowhere.pem, which --tls-cert or --tls-key names")
	assert.NotContains(t, out.String(), "serving")
}
