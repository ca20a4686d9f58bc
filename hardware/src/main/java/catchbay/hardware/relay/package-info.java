/**
 * What drives the bay's relays and what its contacts say belongs here, by Pi4J's interfaces on
 * lines of {@link catchbay.hardware.gpiochip}; how a line is asked for does not.
 */
package catchbay.hardware.relay;
