package catchbay.hardware.gpiochip;

/**
 * The numbers of the kernel's GPIO character device, uAPI v2: sizes and offsets in bytes, requests
 * of ioctl, flags.
 *
 * <p>Source: linux/gpio.h and, for how a request number is made, asm-generic/ioctl.h.
 */
final class Uapi {

    static final int NAME_BYTES = 32;

    /** struct gpiochip_info. */
    static final int CHIP_INFO_BYTES = 68;

    static final int CHIP_LABEL = 32;
    static final int CHIP_LINES = 64;

    /** struct gpio_v2_line_info. */
    static final int LINE_INFO_BYTES = 256;

    static final int INFO_CONSUMER = 32;
    static final int INFO_OFFSET = 64;
    static final int INFO_FLAGS = 72;

    /** struct gpio_v2_line_request; its config begins at {@link #REQUEST_FLAGS}. */
    static final int LINE_REQUEST_BYTES = 592;

    static final int REQUEST_CONSUMER = 256;
    static final int REQUEST_FLAGS = 288;
    static final int REQUEST_ATTRIBUTE_COUNT = 296;
    static final int REQUEST_ATTRIBUTES = 320;
    static final int REQUEST_LINE_COUNT = 560;
    static final int REQUEST_EVENT_BUFFER = 564;
    static final int REQUEST_DESCRIPTOR = 588;

    /** struct gpio_v2_line_config_attribute. */
    static final int ATTRIBUTE_BYTES = 24;

    static final int ATTRIBUTE_VALUE = 8;
    static final int ATTRIBUTE_MASK = 16;
    static final int ATTRIBUTE_FLAGS = 1;
    static final int ATTRIBUTE_OUTPUT_VALUES = 2;
    static final int ATTRIBUTE_DEBOUNCE = 3;

    /** struct gpio_v2_line_values. */
    static final int LINE_VALUES_BYTES = 16;

    static final int VALUES_MASK = 8;

    /** struct gpio_v2_line_event. */
    static final int EVENT_BYTES = 48;

    static final int EVENT_ID = 8;
    static final int EVENT_OFFSET = 12;
    static final int EVENT_SEQUENCE = 16;
    static final int EVENT_LINE_SEQUENCE = 20;
    static final int EVENT_RISING = 1;

    static final long FLAG_USED = 1;
    static final long FLAG_INPUT = 1 << 2;
    static final long FLAG_OUTPUT = 1 << 3;
    static final long FLAG_EDGE_RISING = 1 << 4;
    static final long FLAG_EDGE_FALLING = 1 << 5;
    static final long FLAG_PULL_UP = 1 << 8;
    static final long FLAG_PULL_DOWN = 1 << 9;
    static final long FLAG_BIAS_DISABLED = 1 << 10;

    /** The most lines that one request may hold. */
    static final int LINES_MAX = 64;

    /** The most events that the kernel keeps for one request, whatever is asked for. */
    static final int EVENT_BUFFER_MAX = 1024;

    private static final long READ = 2;
    private static final long READ_WRITE = 3;

    static final long GET_CHIP_INFO = request(READ, 0x01, CHIP_INFO_BYTES);
    static final long GET_LINE_INFO = request(READ_WRITE, 0x05, LINE_INFO_BYTES);
    static final long GET_LINE = request(READ_WRITE, 0x07, LINE_REQUEST_BYTES);
    static final long GET_VALUES = request(READ_WRITE, 0x0E, LINE_VALUES_BYTES);
    static final long SET_VALUES = request(READ_WRITE, 0x0F, LINE_VALUES_BYTES);

    private Uapi() {}

    private static long request(long direction, long number, long bytes) {
        return direction << 30 | bytes << 16 | 0xB4 << 8 | number;
    }
}
