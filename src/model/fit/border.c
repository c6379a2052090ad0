/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "border.h"

double border_step_in(int plain_sts, double plain_per_in, int band_sts, double band_per_in)
{
    return plain_sts / plain_per_in - band_sts / band_per_in;
}

double border_even_sts(int plain_sts, double plain_per_in, double band_per_in)
{
    return plain_sts / plain_per_in * band_per_in;
}
