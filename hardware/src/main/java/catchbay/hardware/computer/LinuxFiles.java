package catchbay.hardware.computer;

import java.io.IOException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.OptionalInt;

/**
 * Where Linux tells of the supply and the clock; a tree of files, so that a test can lay it out.
 *
 * <p>Source: the kernel's raspberrypi firmware driver (attribute get_throttled), its documentation
 * of the class rtc, and systemd-timesyncd.service(8), which makes the file synchronized; from
 * memory, not proven on a Pi.
 *
 * @param root the folder that stands for /
 */
record LinuxFiles(Path root) {

    /** Below it the firmware's folder, whose name differs from board to board. */
    private static final String PLATFORM = "sys/devices/platform";

    private static final String FLAGS = "get_throttled";

    /** So deep lies a firmware's folder: beside or below that of the chip. */
    private static final int DEPTH_MAX = 2;

    /** The firmware's flags on the supply; empty where the computer has none. */
    OptionalInt powerFlags() {
        return powerFlags(root.resolve(PLATFORM), DEPTH_MAX);
    }

    /** Whether a battery keeps the time while the computer is off. */
    boolean hasClockChip() {
        try (DirectoryStream<Path> chips =
                Files.newDirectoryStream(root.resolve("sys/class/rtc"))) {
            return chips.iterator().hasNext();
        } catch (IOException | DirectoryIteratorException none) {
            return false;
        }
    }

    /** Whether a time server has set the clock since the start. */
    boolean wasSynchronised() {
        return Files.exists(root.resolve("run/systemd/timesync/synchronized"));
    }

    private static OptionalInt powerFlags(Path folder, int depth) {
        try (DirectoryStream<Path> chips = Files.newDirectoryStream(folder, "soc*")) {
            for (Path chip : chips) {
                Path flags = chip.resolve(FLAGS);
                OptionalInt found =
                        Files.isReadable(flags)
                                ? parsed(Files.readString(flags))
                                : depth > 1 ? powerFlags(chip, depth - 1) : OptionalInt.empty();
                if (found.isPresent()) {
                    return found;
                }
            }
        } catch (IOException | DirectoryIteratorException none) {
            // What cannot be read is not told.
        }
        return OptionalInt.empty();
    }

    /** As in {@code 50005}, hexadecimal, with or without 0x before it. */
    private static OptionalInt parsed(String text) {
        String digits = text.strip().toLowerCase(java.util.Locale.ROOT);
        String bare = digits.startsWith("0x") ? digits.substring(2) : digits;
        return bare.matches("[0-9a-f]{1,5}")
                ? OptionalInt.of(Integer.parseInt(bare, 16))
                : OptionalInt.empty();
    }
}
