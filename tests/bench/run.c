/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Runs a command TIMES times with its output thrown away and prints the least seconds of a run, as
 * the clock and as the processor has them, and the most memory: `SECONDS PROCESSOR KILOBYTES`.
 *   run TIMES COMMAND WORDS...
 */
#define _XOPEN_SOURCE 700
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static double now_s(void)
{
    struct timespec time;

    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec * 1e-9;
}

static double seconds_of(struct timeval time)
{
    return (double)time.tv_sec + (double)time.tv_usec * 1e-6;
}

/* All children so far: their processor time adds up, their memory is the largest one's. */
static double processor_s(long *kilobytes)
{
    struct rusage usage;

    getrusage(RUSAGE_CHILDREN, &usage);
    *kilobytes = usage.ru_maxrss;
    return seconds_of(usage.ru_utime) + seconds_of(usage.ru_stime);
}

static int run_once(char **command)
{
    int status = 0;
    pid_t child = fork();

    if (child == 0) {
        int nowhere = open("/dev/null", O_WRONLY);

        dup2(nowhere, STDOUT_FILENO);
        dup2(nowhere, STDERR_FILENO);
        execvp(command[0], command);
        _exit(127);
    }
    if (child < 0 || waitpid(child, &status, 0) < 0)
        return -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

int main(int argc, char **argv)
{
    long times = argc > 2 ? strtol(argv[1], NULL, 10) : 0;
    double least_s = 0, least_processor_s = 0;
    long kilobytes = 0;

    if (times < 1) {
        fputs("run TIMES COMMAND WORDS...\n", stderr);
        return 2;
    }
    for (long i = 0; i < times; i++) {
        double before_s = processor_s(&kilobytes), start_s = now_s(), took_s, processor_took_s;
        int status = run_once(argv + 2);

        took_s = now_s() - start_s;
        processor_took_s = processor_s(&kilobytes) - before_s;
        if (status != 0) {
            fprintf(stderr, "%s ended with %d\n", argv[2], status);
            return 1;
        }
        if (i == 0 || took_s < least_s)
            least_s = took_s;
        if (i == 0 || processor_took_s < least_processor_s)
            least_processor_s = processor_took_s;
    }
    printf("%.4f %.4f %ld\n", least_s, least_processor_s, kilobytes);
    return 0;
}
