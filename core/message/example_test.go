package message_test

import (
	"errors"
	"fmt"

	"ferrule/core/message"
)

// What is wrong is a key and its places where it is found; its English is for a log,
// and package text has it in every language.
func ExampleNew() {
	damaged := message.New("problem.record-damaged")
	err := message.New("problem.named", damaged, message.Of("problem.checksum"))
	fmt.Println(err)
	fmt.Println(message.From(err).Key, errors.Is(err, damaged))
	// Output:
	// the record is damaged: the checksum does not match
	// problem.named true
}
