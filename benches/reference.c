/* Loops over the reference library's published table of C functions: nothing of Python is timed.
 * Compiled by reference.py against the header that the installed library brings along.
 * Every loop returns nanoseconds of this thread's processor time. */
#define _GNU_SOURCE
#include <math.h>
#include <time.h>
#include <CoolProp/detail/state_capi.h>

typedef const CoolProp_StateCAPI library;

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return 1e9 * (double)t.tv_sec + (double)t.tv_nsec;
}

void *make(library *l, const char *backend, const char *fluid) { return l->make(backend, fluid); }

/* One update a row, and the outputs by key; a row that fails is NaN. */
double states(library *l, void *handle, long pair, const double *first, const double *second, long rows,
              const long *keys, long outputs, double *out) {
    double start = now();
    for (long i = 0; i < rows; i++) {
        l->update(handle, pair, first[i], second[i]);
        int failed = l->last_error() != 0;
        for (long k = 0; k < outputs; k++)
            out[i * outputs + k] = failed ? NAN : l->keyed_output(handle, keys[k]);
    }
    return now() - start;
}

/* What a cycle needs of the library's numbers. */
typedef struct { long tx, px, ps, hp, t, p, h, s, rho; } codes;
typedef struct { double t, p, h, s, rho; } state;

static state at(library *l, void *handle, const codes *c, long pair, double first, double second, int *failed) {
    l->update(handle, pair, first, second);
    *failed |= l->last_error() != 0;
    state made = {l->keyed_output(handle, c->t), l->keyed_output(handle, c->p), l->keyed_output(handle, c->h),
                  l->keyed_output(handle, c->s), l->keyed_output(handle, c->rho)};
    return made;
}

/* Two stages of one isentropic efficiency and a flash tank at the geometric mean pressure: nine states, each with temperature,
 * pressure, enthalpy, entropy and density, from eleven updates. COP by row; NaN where an update fails. */
double cycles(library *l, void *handle, const codes *c, const double *evaporating, const double *condensing,
              double efficiency, long rows, state *points, double *cop) {
    double start = now();
    for (long i = 0; i < rows; i++) {
        int failed = 0;
        state *point = points + 9 * i;
        point[0] = at(l, handle, c, c->tx, 1.0, evaporating[i], &failed); /* suction */
        point[1] = at(l, handle, c, c->tx, 0.0, condensing[i], &failed);  /* condensed */
        double low = point[0].p, high = point[1].p, middle = sqrt(low * high);
        point[2] = at(l, handle, c, c->px, middle, 0.0, &failed);
        point[3] = at(l, handle, c, c->px, middle, 1.0, &failed);
        point[4] = at(l, handle, c, c->hp, point[1].h, middle, &failed); /* into the tank */
        double x = (point[1].h - point[2].h) / (point[3].h - point[2].h);
        l->update(handle, c->ps, middle, point[0].s);
        failed |= l->last_error() != 0;
        double first = (l->keyed_output(handle, c->h) - point[0].h) / efficiency;
        point[5] = at(l, handle, c, c->hp, point[0].h + first, middle, &failed); /* out of the first stage */
        double mixed = (1.0 - x) * point[5].h + x * point[3].h;
        point[6] = at(l, handle, c, c->hp, mixed, middle, &failed); /* into the second */
        l->update(handle, c->ps, high, point[6].s);
        failed |= l->last_error() != 0;
        double second = (l->keyed_output(handle, c->h) - point[6].h) / efficiency;
        point[7] = at(l, handle, c, c->hp, point[6].h + second, high, &failed); /* discharge */
        point[8] = at(l, handle, c, c->hp, point[2].h, low, &failed);           /* into the evaporator */
        double work = (1.0 - x) * first + second;
        cop[i] = failed ? NAN : (1.0 - x) * (point[0].h - point[2].h) / work;
    }
    return now() - start;
}
