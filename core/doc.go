// Package core holds no code of its own: it is the house whose rooms are the
// packages below it, and its tests hold the rules that all rooms share - who
// may import whom, units on every exported float, one package comment each,
// no clock and no global randomness. See DEVELOPERS.md.
package core
