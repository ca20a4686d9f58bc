/* Prints sizes, offsets and request numbers of linux/gpio.h as the compiler has them, one "name number" a line. */
#include <linux/gpio.h>
#include <stddef.h>
#include <stdio.h>

#define SAY(name, number) printf("%s %lu\n", name, (unsigned long)(number))
#define REQUEST(field) offsetof(struct gpio_v2_line_request, field)
#define EVENT(field) offsetof(struct gpio_v2_line_event, field)
#define INFO(field) offsetof(struct gpio_v2_line_info, field)

int main(void) {
    SAY("CHIP_INFO_BYTES", sizeof(struct gpiochip_info));
    SAY("CHIP_LABEL", offsetof(struct gpiochip_info, label));
    SAY("CHIP_LINES", offsetof(struct gpiochip_info, lines));
    SAY("LINE_INFO_BYTES", sizeof(struct gpio_v2_line_info));
    SAY("INFO_CONSUMER", INFO(consumer));
    SAY("INFO_OFFSET", INFO(offset));
    SAY("INFO_FLAGS", INFO(flags));
    SAY("LINE_REQUEST_BYTES", sizeof(struct gpio_v2_line_request));
    SAY("REQUEST_CONSUMER", REQUEST(consumer));
    SAY("REQUEST_FLAGS", REQUEST(config.flags));
    SAY("REQUEST_ATTRIBUTE_COUNT", REQUEST(config.num_attrs));
    SAY("REQUEST_ATTRIBUTES", REQUEST(config.attrs));
    SAY("REQUEST_LINE_COUNT", REQUEST(num_lines));
    SAY("REQUEST_EVENT_BUFFER", REQUEST(event_buffer_size));
    SAY("REQUEST_DESCRIPTOR", REQUEST(fd));
    SAY("ATTRIBUTE_BYTES", sizeof(struct gpio_v2_line_config_attribute));
    SAY("ATTRIBUTE_VALUE", offsetof(struct gpio_v2_line_config_attribute, attr.flags));
    SAY("ATTRIBUTE_MASK", offsetof(struct gpio_v2_line_config_attribute, mask));
    SAY("ATTRIBUTE_FLAGS", GPIO_V2_LINE_ATTR_ID_FLAGS);
    SAY("ATTRIBUTE_OUTPUT_VALUES", GPIO_V2_LINE_ATTR_ID_OUTPUT_VALUES);
    SAY("ATTRIBUTE_DEBOUNCE", GPIO_V2_LINE_ATTR_ID_DEBOUNCE);
    SAY("LINE_VALUES_BYTES", sizeof(struct gpio_v2_line_values));
    SAY("VALUES_MASK", offsetof(struct gpio_v2_line_values, mask));
    SAY("EVENT_BYTES", sizeof(struct gpio_v2_line_event));
    SAY("EVENT_ID", EVENT(id));
    SAY("EVENT_OFFSET", EVENT(offset));
    SAY("EVENT_SEQUENCE", EVENT(seqno));
    SAY("EVENT_LINE_SEQUENCE", EVENT(line_seqno));
    SAY("EVENT_RISING", GPIO_V2_LINE_EVENT_RISING_EDGE);
    SAY("FLAG_USED", GPIO_V2_LINE_FLAG_USED);
    SAY("FLAG_INPUT", GPIO_V2_LINE_FLAG_INPUT);
    SAY("FLAG_OUTPUT", GPIO_V2_LINE_FLAG_OUTPUT);
    SAY("FLAG_EDGE_RISING", GPIO_V2_LINE_FLAG_EDGE_RISING);
    SAY("FLAG_EDGE_FALLING", GPIO_V2_LINE_FLAG_EDGE_FALLING);
    SAY("FLAG_PULL_UP", GPIO_V2_LINE_FLAG_BIAS_PULL_UP);
    SAY("FLAG_PULL_DOWN", GPIO_V2_LINE_FLAG_BIAS_PULL_DOWN);
    SAY("FLAG_BIAS_DISABLED", GPIO_V2_LINE_FLAG_BIAS_DISABLED);
    SAY("NAME_BYTES", GPIO_MAX_NAME_SIZE);
    SAY("LINES_MAX", GPIO_V2_LINES_MAX);
    SAY("GET_CHIP_INFO", GPIO_GET_CHIPINFO_IOCTL);
    SAY("GET_LINE_INFO", GPIO_V2_GET_LINEINFO_IOCTL);
    SAY("GET_LINE", GPIO_V2_GET_LINE_IOCTL);
    SAY("GET_VALUES", GPIO_V2_LINE_GET_VALUES_IOCTL);
    SAY("SET_VALUES", GPIO_V2_LINE_SET_VALUES_IOCTL);
    return 0;
}
