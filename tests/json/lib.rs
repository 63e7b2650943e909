//! Nothing of its own: the tests beside this file are what this package is for.
