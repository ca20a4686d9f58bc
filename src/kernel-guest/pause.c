/*
 * Stops a process for a while and lets it go on: pause PID MILLISECONDS. Says how long it was really stopped, in ms: no
 * program is started in between, whose own start would make the pause longer than asked.
 */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

int main(int count, char **words) {
    if (count != 3) return 2;
    int process = atoi(words[1]);
    long wanted = atol(words[2]);
    struct timespec begun, ended, until;
    clock_gettime(CLOCK_MONOTONIC, &begun);
    until = begun;
    until.tv_sec += wanted / 1000;
    until.tv_nsec += wanted % 1000 * 1000000;
    if (until.tv_nsec >= 1000000000) {
        until.tv_nsec -= 1000000000;
        until.tv_sec++;
    }
    if (kill(process, SIGSTOP)) return 1;
    clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, 0);
    if (kill(process, SIGCONT)) return 1;
    clock_gettime(CLOCK_MONOTONIC, &ended);
    printf("%ld\n", (ended.tv_sec - begun.tv_sec) * 1000 + (ended.tv_nsec - begun.tv_nsec) / 1000000);
    return 0;
}
