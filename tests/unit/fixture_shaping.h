/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a line of shaping does, read back.
 */
#ifndef STRANDWISE_FIXTURE_SHAPING_H
#define STRANDWISE_FIXTURE_SHAPING_H

#include <stdbool.h>

/* Stitches used and left (of several rounds, by the first and after the last). false if it is not one of
 * our lines. */
bool shaping_read_back(const char *line, int *used, int *left);

#endif
