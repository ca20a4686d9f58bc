package catchbay.hardware.serial;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import java.nio.file.attribute.PosixFilePermission;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What Linux tells about its serial devices: their lasting names, who has them open, whose they
 * are. Both folders are trees of files, so that a test can lay them out.
 *
 * <p>Source: the Linux manual pages proc_pid_fd(5) and proc_locks(5); the names are made by the
 * rules that udev brings along (60-serial.rules).
 *
 * @param names the folder of lasting names, with the folders by-id and by-path
 * @param processes where the kernel tells of processes
 */
record SerialDevices(Path names, Path processes) {

    /** Those of this machine. */
    static final SerialDevices HERE = new SerialDevices(Path.of("/dev/serial"), Path.of("/proc"));

    /** By-id first: such a name stays when the adapter is put into another socket. */
    private static final List<String> FOLDERS = List.of("by-id", "by-path");

    /** Devices that are numbered in the order in which they were found. */
    private static final Pattern NUMBERED = Pattern.compile("tty(?:USB|ACM)[0-9]+");

    private static final Pattern NUMBER = Pattern.compile("[0-9]{1,9}");

    /** How this program's start names it, by class or by module and class. */
    private static final String OURSELVES = "catchbay.app.Main";

    /** As in {@code 3: FLOCK ADVISORY WRITE 812 00:05:123 0 EOF}. */
    private static final Pattern LOCK =
            Pattern.compile(
                    "[0-9]+: FLOCK +[A-Z]+ +[A-Z]+ +([0-9]{1,9}) ([0-9a-f]+):([0-9a-f]+):([0-9]+)"
                            + " .*");

    /**
     * A program that holds a device.
     *
     * @param process its number
     * @param command what it is called; empty when that cannot be seen
     */
    record Holder(long process, String command) {
        @Override
        public String toString() {
            return (command.isEmpty() ? "a program" : command) + " (process " + process + ")";
        }
    }

    /** Whether the path is a bare device number, which may be another device after a plugging. */
    static boolean isNumbered(Path given) {
        return given.getFileName() != null
                && NUMBERED.matcher(given.getFileName().toString()).matches()
                && !Files.isSymbolicLink(given);
    }

    /** The lasting names of the adapters that are there. */
    List<Path> lasting() {
        List<Path> found = new ArrayList<>();
        for (String folder : FOLDERS) {
            found.addAll(inside(names.resolve(folder)));
        }
        return found;
    }

    /** The lasting names of one device; none when it is not there. */
    List<Path> lastingOf(Path device) {
        List<Path> leading = new ArrayList<>();
        for (Path name : lasting()) {
            try {
                if (Files.isSameFile(name, device)) {
                    leading.add(name);
                }
            } catch (IOException leadsNowhere) {
                // A link whose device has just gone leads to no device of ours.
            }
        }
        return leading;
    }

    /**
     * Who else has the device open or locked, as far as this user may see it. What another user's
     * program has open is hidden; its lock is not.
     *
     * @param device the device itself, not a link to it
     */
    Collection<Holder> othersHolding(Path device) {
        TreeMap<Long, Holder> holders = new TreeMap<>();
        for (Path process : inside(processes)) {
            if (NUMBER.matcher(process.getFileName().toString()).matches()
                    && hasOpen(process, device)) {
                long number = Long.parseLong(process.getFileName().toString());
                holders.put(number, holder(number));
            }
        }
        for (long number : locking(device)) {
            holders.put(number, holder(number));
        }
        holders.remove(ProcessHandle.current().pid());
        return holders.values();
    }

    /**
     * The group that a user may be added to so as to use the device; empty when that cannot be
     * seen, when the device's mode gives its group nothing, and when it is root's: whoever is in
     * that may more than a bay needs.
     */
    static Optional<String> group(Path device) {
        try {
            PosixFileAttributes seen = Files.readAttributes(device, PosixFileAttributes.class);
            return groupToJoin(seen.group().getName(), seen.permissions());
        } catch (IOException | UnsupportedOperationException hidden) {
            return Optional.empty();
        }
    }

    static Optional<String> groupToJoin(String group, Set<PosixFilePermission> mode) {
        boolean gives =
                mode.contains(PosixFilePermission.GROUP_READ)
                        && mode.contains(PosixFilePermission.GROUP_WRITE);
        return gives && !group.equals("root") ? Optional.of(group) : Optional.empty();
    }

    private static boolean hasOpen(Path process, Path device) {
        for (Path open : inside(process.resolve("fd"))) {
            try {
                if (Files.readSymbolicLink(open).equals(device)) {
                    return true;
                }
            } catch (IOException closedMeanwhile) {
                // No longer open: nothing to tell.
            }
        }
        return false;
    }

    private List<Long> locking(Path device) {
        List<Long> found = new ArrayList<>();
        try {
            long folderDevice = (long) Files.getAttribute(device, "unix:dev");
            long inode = (long) Files.getAttribute(device, "unix:ino");
            for (String line : Files.readAllLines(processes.resolve("locks"))) {
                Matcher lock = LOCK.matcher(line);
                if (lock.matches()
                        && Long.parseLong(lock.group(2), 16) == major(folderDevice)
                        && Long.parseLong(lock.group(3), 16) == minor(folderDevice)
                        && Long.parseLong(lock.group(4)) == inode) {
                    found.add(Long.parseLong(lock.group(1)));
                }
            }
        } catch (IOException hidden) {
            // Then the open files alone tell.
        }
        return found;
    }

    private Holder holder(long process) {
        Path folder = processes.resolve(Long.toString(process));
        try {
            String name = Files.readString(folder.resolve("comm")).strip();
            return new Holder(process, name.equals("java") ? javaProgram(folder) : name);
        } catch (IOException hidden) {
            return new Holder(process, "");
        }
    }

    /** All programs of Java have one name, so this program is told from others by its words. */
    private static String javaProgram(Path process) throws IOException {
        List<String> words = List.of(Files.readString(process.resolve("cmdline")).split("\0"));
        return words.stream().anyMatch(word -> word.endsWith(OURSELVES))
                ? "another catchbay"
                : "java";
    }

    // How a 64-bit device number holds its two parts: makedev(3), gnu_dev_major.
    private static long major(long device) {
        return device >> 8 & 0xfff | device >> 32 & 0xfffff000L;
    }

    private static long minor(long device) {
        return device & 0xff | device >> 12 & 0xffffff00L;
    }

    /** What lies in a folder, by name; nothing when it is not there or may not be read. */
    private static List<Path> inside(Path folder) {
        List<Path> found = new ArrayList<>();
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder)) {
            entries.forEach(found::add);
        } catch (IOException | java.nio.file.DirectoryIteratorException absent) {
            return List.of();
        }
        found.sort(null);
        return found;
    }
}
