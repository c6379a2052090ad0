/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What every fuzz target needs: a run of its own for each input, freed whether it ended or
 * ran out of memory, and the input as a file, since reading a file is part of what is tested.
 */
#ifndef STRANDWISE_FUZZ_H
#define STRANDWISE_FUZZ_H

#include <stddef.h>
#include <stdint.h>

#include "base/work.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Run body on a fresh work whose arena holds at most 512 MB. */
void fuzz_run(void (*body)(struct work *work, const uint8_t *data, size_t size),
              const uint8_t *data, size_t size);

/* A file with these bytes in a folder of this process; removed when the process ends. The name
 * is the whole path and lives until the next call with the same name. */
const char *fuzz_file(const char *name, const uint8_t *data, size_t size);

/* Stop with a report where a promise of a header is broken. */
#define FUZZ_HOLDS(condition)                                                                      \
    do {                                                                                           \
        if (!(condition))                                                                          \
            __builtin_trap();                                                                      \
    } while (0)

#endif
