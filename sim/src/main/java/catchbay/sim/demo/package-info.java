/**
 * The demonstration: the command that runs one catch on the stand-in bay with an invented truck; no
 * physics.
 */
package catchbay.sim.demo;
