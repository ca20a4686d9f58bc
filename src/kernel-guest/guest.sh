# Shared by prove and measure: a Debian kernel with its simulated GPIO chip, a Java and our classes, booted under
# software emulation. Sourced, with "root" set to the project's folder, after setup.sh.
guest=$root/src/kernel-guest
work=$BUILD/kernel-guest
LOG=$work/setup.log
# Kernels by the version of their package, and Javas by their release: made once for all folders of this user.
RUNNER=catchbay.hardware.gpiochip.GuestRunner
cache=${XDG_CACHE_HOME:-${HOME:-$BUILD}/.cache}/catchbay/kernel-guest

need_guest_tools() {
    [ "$(uname -s) $(uname -m)" = "Linux x86_64" ] ||
        fail "the kernel guest needs Linux on an x86-64 processor, this is $(uname -s) on $(uname -m): run it on one" \
            "that has it; all other tests run here by 'mvn verify'."
    command -v apt-get >/dev/null || fail "the kernel guest is made of Debian's packages: run it on Debian."
    mkdir -p "$work" || fail_unwritable
    mkdir -p "$cache" && : >>"$cache/lock" || fail "cannot write to $cache: give this user write permission to it."
    start_log
    need_jdk
    need mvn maven
    need gcc gcc
    need make make
    need cpio cpio
    need xz xz-utils
    need flock util-linux
    need qemu-system-x86_64 qemu-system-x86
    need busybox busybox-static
    [ -r /usr/include/linux/gpio.h ] || install_package linux-libc-dev ||
        fail "install the Debian package linux-libc-dev."
}

candidate() { apt-cache policy "$1" | awk '/Candidate:/ {print $2}'; }

# Sets "image", "release" and "version" to the kernel that Debian gives out today: an older one disappears from its
# archive. False where apt has no lists.
name_kernel() {
    image=$(apt-cache depends linux-image-amd64 2>/dev/null | awk '/Depends/ {print $2; exit}')
    [ -n "$image" ] || return 1
    release=${image#linux-image-}
    version=$(candidate "$image")
    kernel=$cache/$release-$version
}

need_kernel() {
    name_kernel && [ -e "$kernel/complete" ] && return 0
    [ "$(id -u)" = 0 ] && apt-get update -qq >>"$LOG" 2>&1
    name_kernel || fail "apt does not know linux-image-amd64: run apt-get update on a Debian, and start again."
    [ -e "$kernel/complete" ] || make_kernel
}

# The image and the chip's module, built of the source package of the very same version. Nothing of it is installed.
make_kernel() {
    source=linux-source-$(printf '%s' "$release" | cut -d. -f1,2)
    for package in "$source" "linux-headers-$release"; do
        [ "$(candidate "$package")" = "$version" ] ||
            fail "$image is version $version, but $package is not: run apt-get update and start again."
    done
    say "Making the kernel guest's kernel $version; this takes a minute or two ..."
    [ "$(dpkg-query -W -f '${Version}' "linux-headers-$release" 2>/dev/null)" = "$version" ] ||
        install_package "linux-headers-$release" || fail "install the Debian package linux-headers-$release."
    rm -rf "$kernel"
    mkdir -p "$kernel/packages" "$kernel/module"
    (cd "$kernel/packages" && apt-get download -qq "$image=$version" "$source=$version") >>"$LOG" 2>&1 ||
        fail "the kernel cannot be downloaded: see $LOG."
    dpkg-deb --fsys-tarfile "$kernel"/packages/linux-image-*.deb | tar x -C "$kernel" \
        "./boot/vmlinuz-$release" "./lib/modules/$release/kernel/fs/configfs/configfs.ko"
    dpkg-deb --fsys-tarfile "$kernel/packages/$source"_*.deb | tar xO "./usr/src/$source.tar.xz" |
        tar xJ -C "$kernel/module" --strip-components=3 "$source/drivers/gpio/gpio-sim.c" \
            "$source/drivers/gpio/gpiolib.h" "$source/kernel/irq/irq_sim.c"
    # The one function that the kernel keeps from modules; the exported one does the same for a mapped interrupt.
    sed -i 's/handle_simple_irq(irq_to_desc(irqnum))/generic_handle_irq(irqnum)/' "$kernel/module/irq_sim.c"
    printf 'obj-m := gpio-sim-guest.o\ngpio-sim-guest-y := gpio-sim.o irq_sim.o\n' >"$kernel/module/Makefile"
    make -C "/usr/src/linux-headers-$release" M="$kernel/module" modules >>"$LOG" 2>&1
    [ -s "$kernel/module/gpio-sim-guest.ko" ] || fail "the simulated chip cannot be built: see $LOG."
    rm -rf "$kernel/packages"
    : >"$kernel/complete"
}

# A small Java with the archive of its classes, which makes it start a second sooner in the guest.
need_runtime() {
    runtime=$cache/java-$(cksum <"$jdk/release" | cut -d' ' -f1)
    [ -e "$runtime/complete" ] && return 0
    rm -rf "$runtime"
    "$jdk/bin/jlink" --add-modules java.base,java.logging,java.management --strip-debug --no-header-files \
        --no-man-pages --generate-cds-archive --output "$runtime" >>"$LOG" 2>&1 ||
        fail "the guest's Java cannot be made: see $LOG."
    rm -f "$runtime/lib/server/classes_nocoops.jsa"
    : >"$runtime/complete"
}

compile() {
    maven -q -DskipTests test-compile dependency:build-classpath -Dmdep.outputFile="$work/class-path" \
        -Dmdep.includeScope=test -pl hardware -am >>"$LOG" 2>&1 || show_build_failure
}

# copy_libraries FILE...: the libraries that they name.
copy_libraries() {
    for library in $(ldd "$@" 2>/dev/null | grep -oE '/[^ ):]+\.so[^ ):]*' | sort -u); do
        case $library in "$runtime"/*) continue ;; esac
        mkdir -p "$work/root$(dirname "$library")"
        cp -L "$library" "$work/root$library"
    done
}

# make_root PROGRAM...: the guest's files, with our own C programs built in.
make_root() {
    rm -rf "$work/root"
    for folder in bin dev proc sys lib tmp jars etc; do mkdir -p "$work/root/$folder"; done
    cp "$(command -v busybox)" "$work/root/bin/busybox"
    cp "$guest/init" "$work/root/init"
    chmod +x "$work/root/init"
    printf 'root:x:0:0::/:/bin/sh\nvisitor:x:1000:1000::/:/bin/sh\n' >"$work/root/etc/passwd"
    printf 'root:x:0:\ngpio:x:997:\nvisitor:x:1000:\n' >"$work/root/etc/group"
    cp "$kernel/module/gpio-sim-guest.ko" "$kernel/lib/modules/$release/kernel/fs/configfs/configfs.ko" \
        "$work/root/lib/"
    for program in "$@"; do
        gcc -O2 -Wall -Werror -o "$work/root/bin/$program" "$guest/$program.c" >>"$LOG" 2>&1 ||
            fail "the guest's own program $program.c cannot be built: see $LOG."
        copy_libraries "$work/root/bin/$program"
    done
    cp -a "$runtime" "$work/root/runtime"
    copy_libraries "$runtime/bin/java" "$runtime/lib/server/libjvm.so" "$runtime"/lib/*.so
    make_jars
}

# The class path, and an archive of what its classes are once they have run: it halves the JVM's start in the guest. The
# archive is made by a training run here, of tests that need no chip and of proofs that fail for the lack of one.
make_jars() {
    rm -rf "$work/classes"
    mkdir "$work/classes"
    for module in rig hardware; do
        cp -a "$root/$module/target/classes/." "$root/$module/target/test-classes/." "$work/classes/"
    done
    "$jdk/bin/jar" --create --no-compress --file "$work/root/jars/catchbay.jar" -C "$work/classes" .
    for jar in $(tr ':' '\n' <"$work/class-path" |
        grep -E '/(junit-|opentest4j|apiguardian|pi4j-|slf4j-)[^/]*\.jar$'); do
        cp "$jar" "$work/root/jars/"
    done
    jars=$(cd "$work/root" && ls jars/*.jar)
    printf '%s\n' -XX:+UseSerialGC --enable-native-access=ALL-UNNAMED -XX:AOTCache=/classes.aot \
        "-cp $(printf '/%s:' $jars)" >"$work/root/java-options"
    "$runtime/bin/java" -XX:+UseSerialGC --enable-native-access=ALL-UNNAMED \
        -XX:AOTCacheOutput="$work/root/classes.aot" -cp "$(printf "$work/root/%s:" $jars)" $RUNNER \
        gpiochip.PulseTapTest gpiochip.UapiTest gpiochip.GuestChipProof gpiochip.GuestRelaysProof relay.RelaysTest \
        >"$work/training.log" 2>&1
    [ -s "$work/root/classes.aot" ] || fail "the archive of the guest's classes was not made: see $work/training.log."
}

make_guest() {
    need_guest_tools
    # One at a time makes what is kept for all.
    exec 8<"$cache/lock"
    flock 8
    need_kernel
    need_runtime
    exec 8<&-
    compile
    make_root "$@"
}

# Makes what the guest boots from. Not packed: to unpack it in the emulation takes longer than to read it.
pack() {
    (cd "$work/root" && find . | cpio -o -H newc --quiet) >"$work/initrd"
}

# boot PROCESSORS SECONDS_MAX: with as many processors, the guest runs its file "work-PROCESSORS". What its console says
# goes to "console-PROCESSORS.log".
boot() {
    timeout "$2" qemu-system-x86_64 -accel tcg -cpu max -m 1024 -smp "$1" -nographic -no-reboot \
        -kernel "$kernel/boot/vmlinuz-$release" -initrd "$work/initrd" \
        -append "console=ttyS0 quiet panic=-1" </dev/null >"$work/console-$1.log" 2>&1
    sed -i 's/\r//g' "$work/console-$1.log"
}
