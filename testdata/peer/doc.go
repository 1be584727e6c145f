// Package peer lays package collide beside a general-purpose collision
// library: bodies, poses, and the answers that the library gave. README.md
// tells where the numbers come from and how they are made again.
package peer
