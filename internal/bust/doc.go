// Package bust draws the head itself, seen from any side, into cells.
//
// The map of package figure unrolls the head, and stretches what is far from the back of it. Here
// the surface is looked at: what is behind it is hidden, light falls on it, and rows lie where they
// would lie on the client. As on the map, the client's left is on the left when seen from behind.
//
// A Relief is the bare head for one view and size. It takes some milliseconds and is kept. A Scene
// is what lies on it; Draw puts both on a screen and is quick enough for every keystroke.
package bust
