package share_test

import (
	"fmt"

	"ferrule/core/pipeline"
	"ferrule/core/share"
)

// A session as a link, and what a letter lost on the way does to it. No name is in it
// unless that is asked for.
func ExampleEncode() {
	s, err := pipeline.Example("thin")
	if err != nil {
		fmt.Println(err)
		return
	}
	link, err := share.Encode(s, nil, share.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := share.Decode(link)
	fmt.Printf("%d letters, %d balls, name %q, %v\n", len(link), len(back.Session.Shots), back.Session.Player.Name, err)
	_, err = share.Decode(link[:len(link)-1])
	fmt.Println(err)
	// Output:
	// 444 letters, 12 balls, name "", <nil>
	// this link is damaged: a part of it is missing or changed; ask for it again (it is cut off or holds a wrong character)
}
