-- 1. How much each class worked with it: students, days and marks.
SELECT class_key, class, grade, count(DISTINCT student_key) AS students,
       count(DISTINCT date(time_utc)) AS days, count(*) AS marks
FROM marks GROUP BY class_key ORDER BY class_key;
-- 2. Skills over the school: marks, and those without help that were secure, in percent.
SELECT skill, count(*) AS marks, count(DISTINCT class_key) AS classes,
       round(100.0 * sum(level = 'secure' AND help = 'none') / count(*), 1) AS secure_alone
FROM marks GROUP BY skill ORDER BY skill;
-- 3. The latest mark of every student and skill: how many stand where, grade by grade.
SELECT grade, skill, sum(level = 'secure') AS secure, sum(level = 'shaky') AS shaky,
       sum(level = 'stuck') AS stuck
FROM (SELECT grade, skill, level, row_number() OVER (
          PARTITION BY student_key, skill ORDER BY time_utc DESC, mark_key DESC) AS newest
      FROM marks)
WHERE newest = 1 GROUP BY grade, skill ORDER BY grade, skill;
-- 4. Wrong answers that were named, most often first.
SELECT skill, slip, count(*) AS times, count(DISTINCT class_key) AS classes
FROM marks WHERE slip <> '' GROUP BY skill, slip ORDER BY times DESC, skill, slip;
-- 5. Kinds of centers: marks made there, and those stuck, in percent.
SELECT center_kind, count(*) AS marks, round(100.0 * sum(level = 'stuck') / count(*), 1) AS stuck
FROM marks WHERE center_kind <> '' GROUP BY center_kind ORDER BY center_kind;
