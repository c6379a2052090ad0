/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fuzz.h"

#include <fcntl.h>
#include <gsl/gsl_errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"

enum { FILES_MAX = 4 };

static char folder[64];
static char paths[FILES_MAX][160];
static int npaths;

static void remove_files(void)
{
    for (int i = 0; i < npaths; i++)
        unlink(paths[i]);
    rmdir(folder);
}

static void make_folder(void)
{
    bool shared_memory = access("/dev/shm", W_OK) == 0;

    snprintf(folder, sizeof folder, "%s/strandwise-fuzz-XXXXXX",
             shared_memory ? "/dev/shm" : "/tmp");
    FUZZ_HOLDS(mkdtemp(folder) != NULL);
    atexit(remove_files);
}

const char *fuzz_file(const char *name, const uint8_t *data, size_t size)
{
    char *path = NULL;
    int fd;

    if (!folder[0])
        make_folder();
    for (int i = 0; i < npaths; i++)
        if (strcmp(strrchr(paths[i], '/') + 1, name) == 0)
            path = paths[i];
    if (!path) {
        FUZZ_HOLDS(npaths < FILES_MAX);
        path = paths[npaths++];
        snprintf(path, sizeof *paths, "%s/%s", folder, name);
    }
    fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    FUZZ_HOLDS(fd >= 0 && write(fd, data, size) == (ssize_t)size && close(fd) == 0);
    return path;
}

/* The tables are the same for every input: read once, for this process. */
static const struct tables *tables_once(void)
{
    static struct work work;

    if (!work.arena) {
        work.arena = arena_create((size_t)64 << 20);
        work.diagnostics = diagnostics_create(work.arena);
        work.tables = tables_load(&work);
        FUZZ_HOLDS(work.tables != NULL);
    }
    return work.tables;
}

struct fuzzing {
    struct work *work;
    void (*body)(struct work *work, const uint8_t *data, size_t size);
    const uint8_t *data;
    size_t size;
};

static void run(void *data)
{
    struct fuzzing *fuzzing = data;

    fuzzing->work->diagnostics = diagnostics_create(fuzzing->work->arena);
    fuzzing->work->tables = tables_once();
    fuzzing->body(fuzzing->work, fuzzing->data, fuzzing->size);
}

void fuzz_run(void (*body)(struct work *work, const uint8_t *data, size_t size),
              const uint8_t *data, size_t size)
{
    struct arena *arena = arena_create((size_t)512 << 20);
    struct work work = {.arena = arena, .outside = &disk};
    struct fuzzing fuzzing = {&work, body, data, size};

    gsl_set_error_handler_off();
    arena_run(arena, run, &fuzzing);
    arena_destroy(arena);
}
