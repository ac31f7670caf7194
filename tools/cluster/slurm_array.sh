#!/usr/bin/env bash
# A batch divided into the tasks of a Slurm job array. Submit it with any number of tasks:
#   sbatch --array=1-32 --cpus-per-task=4 tools/cluster/slurm_array.sh my_study.toml /shared/night
# Submitting the same command again resumes stopped tasks, also with another number of tasks.
# Set BEDSHADE to the program's path if it is not in PATH.
#SBATCH --job-name=bedshade
#SBATCH --output=bedshade_%A_%a.log
#SBATCH --cpus-per-task=1
#SBATCH --signal=TERM@60
#SBATCH --requeue
set -euo pipefail
[ $# -ge 2 ] || { echo "usage: sbatch --array=1-N $0 STUDY FOLDER [OPTION]..." >&2; exit 2; }
study=$1 folder=$2
shift 2
# Each task has its own folder, so that nothing depends on locks across machines.
mkdir -p "$folder"
# exec: the program itself receives Slurm's signals.
exec "${BEDSHADE:-bedshade}" batch "$study" --shard auto --out "$folder/$SLURM_ARRAY_TASK_ID" "$@"
