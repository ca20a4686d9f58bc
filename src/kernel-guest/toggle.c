/*
 * Drives one line of a simulated chip up and down: toggle PULL_FILE COUNT PERIOD_US, where a period of 0 means
 * as fast as it can. Says how many rising edges it made and how long it took, in ms.
 */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

int main(int count, char **words) {
    if (count != 4) return 2;
    int pull = open(words[1], O_WRONLY);
    long edges = atol(words[2]), half = atol(words[3]) * 500;
    struct timespec next, begun, ended;
    clock_gettime(CLOCK_MONOTONIC, &next);
    begun = next;
    for (long i = 0; i < 2 * edges; i++) {
        const char *level = i % 2 ? "pull-down" : "pull-up";
        if (pwrite(pull, level, i % 2 ? 9 : 7, 0) < 0) {
            perror("toggle");
            return 1;
        }
        if (half) {
            next.tv_nsec += half;
            while (next.tv_nsec >= 1000000000) {
                next.tv_nsec -= 1000000000;
                next.tv_sec++;
            }
            /* Never makes up for lateness: edges in a burst would come faster than the period says. */
            clock_gettime(CLOCK_MONOTONIC, &ended);
            if (ended.tv_sec > next.tv_sec || (ended.tv_sec == next.tv_sec && ended.tv_nsec > next.tv_nsec))
                next = ended;
            else
                clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &next, 0);
        }
    }
    clock_gettime(CLOCK_MONOTONIC, &ended);
    printf("%ld %ld\n", edges, (ended.tv_sec - begun.tv_sec) * 1000 + (ended.tv_nsec - begun.tv_nsec) / 1000000);
    return 0;
}
