// Package browsertest drives the built site in a real browser as a person
// does, on a phone's screen with touch: it is a module of its own, so that
// what it needs stays out of the app.
//
// The tests wait for marks that the app sets (body[data-ready], [data-busy],
// [data-saved], main[data-page]) and never for a time. Any error on the
// console, and any request to another origin, fails a test.
package browsertest
