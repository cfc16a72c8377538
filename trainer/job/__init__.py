"""Jobs, solutions and drills as data: what is asked, what a seed decides, what a script does."""

from trainer.job.competences import Competence, Competences, load_competences
from trainer.job.draw import Resolved, resolve
from trainer.job.drill import Drill, load_drill
from trainer.job.free_yard import JOB, FreeYard, write_free_yard
from trainer.job.library import job_files, listed_jobs, load_named_job, scenarios_folder
from trainer.job.models import CHECK_NAMES, FAMILIES, Arrival, Job
from trainer.job.reader import job_digest, load_job
from trainer.job.schema import schemas
from trainer.job.solution import Solution, load_solution, reference_solution, usual_mistake

__all__ = [
    "CHECK_NAMES",
    "FAMILIES",
    "JOB",
    "Arrival",
    "Competence",
    "Competences",
    "Drill",
    "FreeYard",
    "Job",
    "Resolved",
    "Solution",
    "job_digest",
    "job_files",
    "listed_jobs",
    "load_competences",
    "load_drill",
    "load_job",
    "load_named_job",
    "load_solution",
    "reference_solution",
    "resolve",
    "scenarios_folder",
    "schemas",
    "usual_mistake",
    "write_free_yard",
]
