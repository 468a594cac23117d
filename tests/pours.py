"""The pour of a job, as the book works it out."""

from calcbook.book.chapters import Book
from calcbook.pour import slab_heat


def loads_of(job):
    return Book(job).volume.trucks


def mix_for(job):
    return Book(job).mix.mix


def day_of(job):
    return Book(job).day


def first_week_of(job):
    return Book(job).nights


def heat(job, *cases, site=None, **options):
    """The slab's temperatures (slab_heat.run) under the weather of the job, or at another site."""
    return slab_heat.run(job, mix_for(job), site or Book(job).site, *cases, **options)
