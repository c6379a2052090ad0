/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files from the disk, and pictures unpacked by libpng: what the core asks of the command line.
 */
#ifndef STRANDWISE_DISK_H
#define STRANDWISE_DISK_H

#include "base/source.h"

/* Whole regular files, and "-": standard input, whatever it is but a folder. */
extern const struct outside disk;

/* disk_png.c */
enum unpacked disk_unpack_png(struct work *work, const struct unpacking *unpacking);

#endif
