/**
 * Lines of the Linux GPIO character device (uAPI v2), asked for and read through the kernel's own
 * calls, belong here; what an edge or a level means to the bay does not.
 */
package catchbay.hardware.gpiochip;
