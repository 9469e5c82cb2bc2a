package main

import (
	"crypto/tls"
	"errors"
	"fmt"
	"io/fs"
	"time"
)

// certificate reads the files that HTTPS needs, nil without them: before anything is
// served, so that what is wrong with them is said at once.
func (o serveOptions) certificate() (*tls.Certificate, error) {
	if o.cert == "" {
		return nil, nil //nolint:nilnil // no certificate is an answer
	}
	pair, err := tls.LoadX509KeyPair(o.cert, o.key)
	if file, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, fmt.Errorf("can't read %s, which --tls-cert or --tls-key names: %w", file.Path, file.Err)
	}
	if err != nil {
		return nil, fmt.Errorf("can't serve HTTPS with --tls-cert %s and --tls-key %s: both are PEM files, the first with the certificate and those that vouch for it, "+
			"the second with its key without a password: %w", o.cert, o.key, err)
	}
	return &pair, nil
}

// expiry says in a sentence when a certificate is of no use at a moment; empty is that it
// is good.
func expiry(pair *tls.Certificate, now time.Time) string {
	switch leaf := pair.Leaf; {
	case now.After(leaf.NotAfter):
		return "the certificate ended on " + leaf.NotAfter.Format(time.DateOnly) + "; browsers will refuse it"
	case now.Before(leaf.NotBefore):
		return "the certificate begins on " + leaf.NotBefore.Format(time.DateOnly) + "; browsers will refuse it until then"
	}
	return ""
}
