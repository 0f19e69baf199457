// Package intake is the folder of the store for files that other people made.
// Each package below it turns bytes into domain values and a list of problems,
// and writes nothing: someone else decides what is stored.
//
//	table       bytes of a CSV file or a workbook -> rows of text
//	columns     rows of text -> which column says what, which rows are data
//	roomlist    a room list -> rooms, and a plan of what they would change
//	luminaires  a luminaire schedule -> types, and a plan alike
package intake
