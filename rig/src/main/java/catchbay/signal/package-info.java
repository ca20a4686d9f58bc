/**
 * Turning what a line delivers (stamped edges, scale frames, controller text) into tallies,
 * readings and reported amounts belongs here; opening the line, waiting for it, and deciding what a
 * reading means for a run do not.
 */
package catchbay.signal;
