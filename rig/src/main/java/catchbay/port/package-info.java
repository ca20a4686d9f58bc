/**
 * The few interfaces to the outside (time, edges, scale line, controller line, outputs, store) and
 * their providers belong here; any code that talks to a device, real or stand-in, does not.
 */
package catchbay.port;
