package catchbay.architecture;

import com.tngtech.archunit.core.domain.JavaClass;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One room of rig and what it may see. A new room, a new door between rooms or a new library is a
 * line in {@link #ALL}, and nowhere else.
 *
 * @param name the package below the base package
 * @param pure true for a room without I/O, clock, chance, threads and logging
 * @param doors the other rooms it may see
 * @param libraries packages outside the JDK's base that it may use, each with all below it
 */
record Room(String name, boolean pure, Set<String> doors, Set<String> libraries) {

    static final List<Room> ALL =
            List.of(
                    new Room("quantity", true, Set.of(), Set.of()),
                    new Room("signal", true, Set.of("quantity"), Set.of()),
                    new Room(
                            "metrology",
                            true,
                            Set.of("quantity", "signal"),
                            // Chance only as what a caller passes in; making it is banned in rig.
                            Set.of("org.hipparchus", "java.util.random")),
                    new Room("run", true, Set.of("quantity", "signal", "metrology"), Set.of()),
                    new Room("plan", true, Set.of("quantity", "metrology", "run"), Set.of()),
                    new Room("port", false, Set.of("quantity", "signal", "run"), Set.of()),
                    new Room(
                            "record",
                            false,
                            Set.of("quantity", "signal", "metrology", "run", "plan"),
                            Set.of("com.fasterxml.jackson", "com.github.luben.zstd")),
                    new Room(
                            "store",
                            false,
                            Set.of("record"),
                            Set.of("java.sql", "javax.sql", "org.flywaydb", "org.sqlite")),
                    new Room(
                            "app",
                            false,
                            Set.of(
                                    "quantity",
                                    "signal",
                                    "metrology",
                                    "run",
                                    "plan",
                                    "port",
                                    "record",
                                    "store"),
                            Set.of("picocli", "org.tomlj", "com.fasterxml.jackson")));

    /**
     * Packages a pure room may use: values, collections, text. Nothing that reaches outside or
     * keeps time.
     */
    private static final Set<String> PURE_JDK =
            Set.of(
                    "java.lang",
                    "java.lang.annotation",
                    "java.lang.invoke",
                    "java.lang.runtime",
                    "java.math",
                    "java.nio.charset",
                    "java.time",
                    "java.time.format",
                    "java.util",
                    "java.util.function",
                    "java.util.regex",
                    "java.util.stream");

    private static final Set<String> PURE_JDK_EXCEPT =
            Set.of(
                    "java.lang.Process",
                    "java.lang.ProcessBuilder",
                    "java.lang.ProcessHandle",
                    "java.lang.Runtime",
                    "java.lang.Thread",
                    "java.lang.ThreadGroup",
                    "java.lang.ThreadLocal",
                    "java.lang.InheritableThreadLocal",
                    "java.lang.ScopedValue",
                    "java.time.Clock",
                    "java.util.Random",
                    "java.util.Scanner",
                    "java.util.ServiceLoader",
                    "java.util.SplittableRandom",
                    "java.util.Timer",
                    "java.util.TimerTask",
                    "java.util.UUID");

    /** JDK packages that need a line in the table even in a room that is not pure. */
    private static final Set<String> JDK_ON_REQUEST =
            Set.of(
                    "java.awt",
                    "java.net",
                    "java.rmi",
                    "java.sql",
                    "java.util.logging",
                    "java.util.prefs");

    /** The room of a class; empty where it lies outside all of them. */
    static Optional<Room> of(String base, JavaClass javaClass) {
        return ALL.stream()
                .filter(room -> within(javaClass.getPackageName(), base + "." + room.name))
                .findFirst();
    }

    boolean maySee(String base, JavaClass target) {
        if (target.isPrimitive()) {
            return true;
        }
        Optional<Room> room = of(base, target);
        if (room.isPresent()) {
            return room.get().equals(this) || doors.contains(room.get().name);
        }
        return libraries.stream().anyMatch(library -> within(target.getPackageName(), library))
                || jdkAllows(target);
    }

    private boolean jdkAllows(JavaClass target) {
        String packageName = target.getPackageName();
        if (pure) {
            return PURE_JDK.contains(packageName)
                    && PURE_JDK_EXCEPT.stream().noneMatch(outermost(target)::equals);
        }
        return within(packageName, "java")
                && JDK_ON_REQUEST.stream().noneMatch(onRequest -> within(packageName, onRequest));
    }

    private static String outermost(JavaClass javaClass) {
        return javaClass.getEnclosingClass().map(Room::outermost).orElse(javaClass.getName());
    }

    static boolean within(String packageName, String outer) {
        return packageName.equals(outer) || packageName.startsWith(outer + ".");
    }
}
