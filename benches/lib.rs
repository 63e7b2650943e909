//! Nothing of its own: the benches beside this file are what this package is for.
