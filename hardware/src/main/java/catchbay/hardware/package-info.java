/**
 * Adapters from a real line, clock or output to a port belong here; deciding what a reading means
 * for a run does not.
 */
package catchbay.hardware;
