/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Results written whole or not at all: beside the target, flushed, then renamed.
 */
#ifndef STRANDWISE_OUTFILE_H
#define STRANDWISE_OUTFILE_H

#include <stdbool.h>
#include <stddef.h>

struct work;

/* What becomes of a file that is there: it stays, it stays unless she asks (--replace), it goes. */
enum outfile_there { OUTFILE_KEEP, OUTFILE_ASK, OUTFILE_REPLACE };

/* Write nbytes to path, replacing what is there only when all of it is on disk.
 * But for OUTFILE_REPLACE an existing file is a fault. A folder, a missing folder, no permission,
 * a full disk: reported as FILE_WRITE, nothing left behind. Returned: 0, or -1 reported. */
int outfile_write(struct work *work, const char *path, const void *bytes, size_t nbytes,
                  enum outfile_there there);

/* Write to standard output and flush; -1 (reported) when it did not all go out. */
int outfile_write_stdout(struct work *work, const void *bytes, size_t nbytes);

#endif
