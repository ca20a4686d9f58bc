package catchbay.architecture;

import static com.tngtech.archunit.lang.SimpleConditionEvent.violated;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;

import com.tngtech.archunit.core.domain.Dependency;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;

/**
 * The rules that every module's architecture test chooses from. A rule says nothing about an empty
 * module; {@link Imported} proves that the classes it looked at are the ones in the source tree.
 */
final class HouseRules {

    private HouseRules() {}

    /**
     * Every class of rig lives in a room and sees only what the room's line in {@link Room#ALL}
     * says.
     */
    static ArchRule roomsSeeOnlyWhatTheyMay(String base) {
        return rule(
                new ArchCondition<>("see only what their room may") {
                    @Override
                    public void check(JavaClass javaClass, ConditionEvents events) {
                        Optional<Room> room = Room.of(base, javaClass);
                        if (room.isEmpty()) {
                            events.add(
                                    violated(
                                            javaClass,
                                            javaClass.getName()
                                                    + " is in no room: move it, or add its"
                                                    + " room to Room.ALL"));
                            return;
                        }
                        for (Dependency dependency : javaClass.getDirectDependenciesFromSelf()) {
                            JavaClass target = dependency.getTargetClass().getBaseComponentType();
                            if (!room.get().maySee(base, target)) {
                                events.add(
                                        violated(
                                                dependency,
                                                target.getName()
                                                        + " is banned in room "
                                                        + room.get().name()
                                                        + ", use what Room.ALL allows it: "
                                                        + dependency.getDescription()));
                            }
                        }
                    }
                });
    }

    /** Classes use, outside the JDK, only these packages and what lies below them. */
    static ArchRule onlyLibraries(Set<String> packages) {
        return dependencies(
                target ->
                        Stream.concat(Stream.of("java"), packages.stream())
                                .anyMatch(allowed -> Room.within(target.getPackageName(), allowed)),
                packages.toString());
    }

    /** Maven keeps the modules apart too; this rule says so in words. */
    static ArchRule neverSees(String packageName) {
        return dependencies(
                target -> !Room.within(target.getPackageName(), packageName), "a port of rig");
    }

    private static ArchRule dependencies(Predicate<JavaClass> allowed, String use) {
        return rule(
                new ArchCondition<>("depend only on what the module may") {
                    @Override
                    public void check(JavaClass javaClass, ConditionEvents events) {
                        for (Dependency dependency : javaClass.getDirectDependenciesFromSelf()) {
                            JavaClass target = dependency.getTargetClass().getBaseComponentType();
                            if (!target.isPrimitive() && !allowed.test(target)) {
                                events.add(
                                        violated(
                                                dependency,
                                                target.getName()
                                                        + " is banned in this module, use "
                                                        + use
                                                        + ": "
                                                        + dependency.getDescription()));
                            }
                        }
                    }
                });
    }

    /** No class but the excepted ones makes a banned call. */
    static ArchRule banned(List<Ban> bans, Predicate<JavaClass> where) {
        return rule(
                new ArchCondition<>("make no banned call") {
                    @Override
                    public void check(JavaClass javaClass, ConditionEvents events) {
                        if (!where.test(javaClass)) {
                            return;
                        }
                        for (JavaAccess<?> access : javaClass.getAccessesFromSelf()) {
                            for (Ban ban : bans) {
                                if (ban.matches().test(access)) {
                                    events.add(violated(access, ban.message(access)));
                                }
                            }
                        }
                    }
                });
    }

    static Predicate<JavaClass> everywhere() {
        return javaClass -> true;
    }

    static Predicate<JavaClass> inPureRooms(String base) {
        return javaClass -> Room.of(base, javaClass).map(Room::pure).orElse(false);
    }

    /** Everywhere but in these top-level classes and what is nested in them. */
    static Predicate<JavaClass> outside(Set<String> classNames) {
        return javaClass ->
                classNames.stream()
                        .noneMatch(name ->
                                javaClass.getName().equals(name)
                                        || javaClass.getName().startsWith(name + "$"));
    }

    private static ArchRule rule(ArchCondition<JavaClass> condition) {
        return classes().should(condition).allowEmptyShould(true);
    }
}
