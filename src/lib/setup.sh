# Shared by src/catchbay, src/verify and src/format: what they need from the machine, and the build.
# Sourced, with "root" set to the project's folder. Nothing here writes to standard output, which belongs to the
# program that is started.

JAVA_MAJOR_MIN=25
# Where JDKs usually lie; a colon-separated list of folders that hold JDK folders.
JDK_FOLDERS=${CATCHBAY_JDK_FOLDERS-/usr/lib/jvm:/usr/java:/opt:/opt/java:${HOME:-}/.sdkman/candidates/java}
BUILD=$root/target/catchbay
LOG=$BUILD/setup.log
# A first build on a small computer fetches its libraries too; longer than this means something is stuck.
BUILD_SECONDS_MAX=1800
# How long a start waits for other runs to end when the sources have changed under them.
RUNNING_SECONDS_MAX=5

mkdir -p "$BUILD" 2>/dev/null

say() { printf '%s\n' "$*" >&2; }

# Exit code 70 tells a failed set-up from every outcome of the program itself.
fail() {
    say "$(basename "$0"): $*"
    exit 70
}

fail_unwritable() {
    fail "cannot write to $BUILD: give this user write permission to the project's folder."
}

# need COMMAND PACKAGE: the command is there, or its Debian package is installed, or we say so.
need() {
    command -v "$1" >/dev/null 2>&1 && return 0
    install_package "$2" && command -v "$1" >/dev/null 2>&1 && return 0
    fail "the command $1 is missing: install it (Debian package $2)."
}

# Installs one Debian package as root; false where that is not possible.
install_package() {
    [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 || return 1
    if ! apt-cache show "$1" >/dev/null 2>&1; then
        apt-get update -qq >>"$LOG" 2>&1
        apt-cache show "$1" >/dev/null 2>&1 || return 1
    fi
    say "Installing the Debian package $1 ..."
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$1" >>"$LOG" 2>&1 </dev/null
}

# java_major FOLDER: the major version of the JDK there; nothing where there is no JDK.
java_major() {
    [ -x "$1/bin/java" ] && [ -x "$1/bin/javac" ] || return 0
    if [ -r "$1/release" ]; then
        sed -n 's/^JAVA_VERSION="\{0,1\}\([0-9][0-9]*\).*/\1/p' "$1/release"
    else
        "$1/bin/javac" -version 2>&1 | sed -n 's/^javac \([0-9][0-9]*\).*/\1/p'
    fi
}

is_jdk() {
    major=$(java_major "$1")
    [ "${major:-0}" -ge "$JAVA_MAJOR_MIN" ]
}

# Sets "jdk" to the first JDK that is new enough; false where there is none.
find_jdk() {
    jdk=${JAVA_HOME:-}
    [ -n "$jdk" ] && is_jdk "$jdk" && return 0
    if jdk=$(command -v javac); then
        jdk=$(readlink -f "$jdk")
        jdk=${jdk%/bin/javac}
        is_jdk "$jdk" && return 0
    fi
    separator=$IFS
    IFS=:
    for folder in $JDK_FOLDERS; do
        IFS=$separator
        for jdk in "$folder"/*; do
            is_jdk "$jdk" && return 0
        done
    done
    IFS=$separator
    return 1
}

need_jdk() {
    find_jdk && return 0
    install_package "openjdk-$JAVA_MAJOR_MIN-jdk-headless" && find_jdk && return 0
    fail "no JDK $JAVA_MAJOR_MIN or newer found in JAVA_HOME, on the PATH or under $JDK_FOLDERS:" \
        "install one (Debian package openjdk-$JAVA_MAJOR_MIN-jdk-headless, where your release has it)" \
        "or set JAVA_HOME to it."
}

# Maven itself runs on the JDK we found, so that its toolchain search finds the same one wherever it lies.
maven() {
    JAVA_HOME=$jdk mvn -B -ntp -f "$root/pom.xml" "$@" </dev/null 9>&-
}

# One number for everything the program is built from. By content, not by time stamp: an unpacked archive or a
# copied folder keeps old time stamps.
fingerprint() {
    (cd "$root" && find pom.xml rig sim hardware -name target -prune -o \
        -type f \( -path '*/src/main/*' -o -name pom.xml \) -exec cksum {} + | sort | cksum)
}

is_fresh() {
    [ -d "$BUILD/lib" ] && [ -r "$BUILD/built-from" ] && [ "$(cat "$BUILD/built-from")" = "$(fingerprint)" ]
}

# build COMMAND...: runs a Maven build that fills the class path folder; the caller holds the exclusive lock.
# The folder is emptied first: a library's old version left beside the new one would be loaded at random.
build() {
    rm -rf "$BUILD/built-from" "$BUILD/lib"
    built_from=$(fingerprint)
    "$@" && [ -d "$BUILD/lib" ] || return 1
    printf '%s\n' "$built_from" >"$BUILD/built-from"
}

# The lock: shared by every running program, exclusive to a build, so that no build swaps the jars of a running
# catch. It is held through descriptor 9, which the started Java process inherits, and ends with the process.
# Reading is enough for it: whoever may not write here can still run what others have built.
open_lock() {
    need flock util-linux
    waited=0
    [ -e "$BUILD/lock" ] || touch "$BUILD/lock" 2>/dev/null || fail_unwritable
    exec 9<"$BUILD/lock"
}

lock_shared() {
    flock -n -s 9 && return 0
    say "Waiting for another build of this folder to finish ..."
    flock -s -w "$BUILD_SECONDS_MAX" 9 ||
        fail "another build in $root has not finished in $BUILD_SECONDS_MAX s: stop it and start again."
}

# Waits a second for other programs to end, but not for ever: one of them may be a long catch.
wait_for_others() {
    [ "$waited" -lt "$RUNNING_SECONDS_MAX" ] ||
        fail "a Catchbay started from $root is still running and $1: let it finish or stop it, then start again."
    sleep 1
    waited=$((waited + 1))
}

# The log belongs to whoever holds the exclusive lock.
start_log() {
    (: >"$LOG") 2>/dev/null || fail_unwritable
}

# The lines of a build log that say what went wrong.
show_build_failure() {
    grep -E '^\[ERROR\]|^format:' "$LOG" |
        grep -vE '^\[ERROR\] *($|To see|Re-run|For more|After correcting|mvn <args>|\[Help|->)' |
        head -n 12 | cut -c1-300 >&2
    if grep -qE 'UnknownHost|Could not transfer artifact|Network is unreachable|Connection (refused|timed out)' "$LOG"
    then
        fail "the libraries could not be fetched: connect this machine to the network for its first build" \
            "(full log: $LOG)."
    fi
    fail "the build failed, see the lines above (full log: $LOG)."
}
