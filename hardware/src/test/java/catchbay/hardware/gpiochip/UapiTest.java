package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/**
 * Against linux/gpio.h of Linux 6.1 on 64 bits, as a C compiler lays it out; the kernel guest asks
 * a compiler again.
 */
final class UapiTest {

    @Test
    void requestNumbersAreTheHeaders() {
        assertEquals(0x8044b401L, Uapi.GET_CHIP_INFO, "GPIO_GET_CHIPINFO_IOCTL");
        assertEquals(0xc100b405L, Uapi.GET_LINE_INFO, "GPIO_V2_GET_LINEINFO_IOCTL");
        assertEquals(0xc250b407L, Uapi.GET_LINE, "GPIO_V2_GET_LINE_IOCTL");
        assertEquals(0xc010b40eL, Uapi.GET_VALUES, "GPIO_V2_LINE_GET_VALUES_IOCTL");
        assertEquals(0xc010b40fL, Uapi.SET_VALUES, "GPIO_V2_LINE_SET_VALUES_IOCTL");
    }
}
