/**
 * Pulses that the kernel's pulse-width timers make belong here; valves and relays, and what a pulse
 * means to a truck, do not.
 */
package catchbay.hardware.pwm;
