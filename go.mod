module ferrule

go 1.26.0

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/maxence-charriere/go-app/v10 v10.1.11
	github.com/vmihailenco/msgpack/v5 v5.4.1
	golang.org/x/text v0.44.0
	gonum.org/v1/gonum v0.17.0
	rsc.io/qr v0.2.0
)

require (
	github.com/google/uuid v1.6.0 // indirect
	github.com/vmihailenco/tagparser/v2 v2.0.0 // indirect
)
