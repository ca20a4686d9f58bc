/** Asking slow sensors in turn, beside the loop, belongs here; what they are and say does not. */
package catchbay.hardware.rounds;
