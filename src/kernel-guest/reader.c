/*
 * The least reader of one pulse line that there can be, to measure ours by: reader DEVICE LINE COMPANION. Says "ready"
 * once it holds the lines and, when it is asked to end by SIGTERM, how many edges it received and how many numbers were
 * missing before the last one.
 */
#include <fcntl.h>
#include <linux/gpio.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

static volatile sig_atomic_t ended;
static struct gpio_v2_line_event events[1024];

static void end(int signal) {
    (void) signal;
    ended = 1;
}

int main(int count, char **words) {
    if (count != 4) return 2;
    struct sigaction action = {.sa_handler = end};
    sigaction(SIGTERM, &action, NULL);
    struct gpio_v2_line_request request = {.num_lines = 2, .event_buffer_size = 1024};
    request.offsets[0] = atoi(words[2]);
    request.offsets[1] = atoi(words[3]);
    strcpy(request.consumer, "reader");
    request.config.flags = GPIO_V2_LINE_FLAG_INPUT | GPIO_V2_LINE_FLAG_EDGE_RISING;
    request.config.num_attrs = 1;
    request.config.attrs[0].mask = 2;
    request.config.attrs[0].attr.id = GPIO_V2_LINE_ATTR_ID_FLAGS;
    request.config.attrs[0].attr.flags = GPIO_V2_LINE_FLAG_INPUT;
    int chip = open(words[1], O_RDONLY);
    if (ioctl(chip, GPIO_V2_GET_LINE_IOCTL, &request) < 0) {
        perror("reader");
        return 1;
    }
    puts("ready");
    fflush(stdout);
    long received = 0;
    unsigned last = 0;
    struct pollfd line = {.fd = request.fd, .events = POLLIN};
    while (!ended) {
        if (poll(&line, 1, 100) <= 0) continue;
        ssize_t bytes = read(request.fd, events, sizeof events);
        if (bytes <= 0) continue;
        received += bytes / sizeof events[0];
        last = events[bytes / sizeof events[0] - 1].seqno;
    }
    printf("%ld %ld\n", received, (long) last - received);
    return 0;
}
