package main

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
)

// column is a plan, a lot or an evaluation as a column of text: the canonical JSON
// that the library writes and reads strictly.
type column[T json.Marshaler] struct{ Of T }

// Value implements [driver.Valuer].
func (c column[T]) Value() (driver.Value, error) {
	data, err := c.Of.MarshalJSON()
	return string(data), err
}

// Scan implements [database/sql.Scanner].
func (c *column[T]) Scan(stored any) error {
	text, ok := stored.(string)
	if !ok {
		return fmt.Errorf("a %T is stored where a document in JSON belongs", stored)
	}
	return json.Unmarshal([]byte(text), &c.Of)
}
