// Package camera computes with the camera of a photograph: where a point of the
// aircraft falls in the picture, where the camera stood, and along which line of
// sight a pixel was seen.
//
// # Frames
//
// The aircraft's axes are x aft, y to the pilot's right, z up, in inches. A pixel
// is (x, y): x to the right, y DOWN, from the centre of the pixel in the upper left
// corner, as picture viewers count. The camera's axes are Right, Down and Ahead,
// right-handed: x right, y down, z ahead in the scene.
//
// # One direction
//
//	Resect: sights -> Fit    Camera.Project: position -> pixel    Camera.Ray: pixel -> line of sight
//
//	FitPlane: points of a plane -> PlaneFit    PlaneFit.Read: pixel -> place of the plane
//
// A [Fit] holds the camera, its covariance and what is left at every point. What it
// cannot tell it says: three points give up to four cameras, points in one plane do
// not tell a mirrored picture from a true one, and distance and principal
// distance trade off where there is little depth.
package camera
