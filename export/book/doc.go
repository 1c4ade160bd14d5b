// Package book writes the job book: one HTML file that holds everything of a pack, for
// the desk, the hangar and paper, and asks nothing of a network. The page is in folder
// page: text and layout, styles, and scripts of one idea a file.
package book
